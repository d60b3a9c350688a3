using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Contracts;

/// <summary>What a school flew and graded in some days up to today.</summary>
/// <param name="FromOn">First day, in the school's zone.</param>
/// <param name="ToOn">Today.</param>
/// <param name="Attempts">Scored attempts of the period.</param>
/// <param name="Drills">By title.</param>
/// <param name="Segments">The share not met of each kind of segment and parameter, the highest first.</param>
/// <param name="Aircraft">By title; what was flown in no stated aircraft comes last.</param>
/// <param name="Stages">In their order; students are counted at the stage where they stand today.</param>
/// <param name="NotFlown">Published drills that nobody flew.</param>
/// <param name="NearlyAllFail">Slugs of drills that nearly everybody fails, with figures in <paramref name="Drills"/>.</param>
public sealed record SchoolPeriod(
    DateOnly FromOn,
    DateOnly ToOn,
    CountedShare Attempts,
    IReadOnlyList<DrillPeriod> Drills,
    IReadOnlyList<SegmentPeriod> Segments,
    IReadOnlyList<InstructorPeriod> Instructors,
    IReadOnlyList<AircraftPeriod> Aircraft,
    IReadOnlyList<StagePeriod> Stages,
    IReadOnlyList<DrillName> NotFlown,
    IReadOnlyList<string> NearlyAllFail
);

/// <summary>A drill and its title.</summary>
public sealed record DrillName(string DrillSlug, string DrillTitle);

/// <summary>One drill in the period.</summary>
/// <param name="Students">Students who flew it.</param>
public sealed record DrillPeriod(string DrillSlug, string DrillTitle, int Students, CountedShare Share);

/// <summary>One kind of segment and parameter in the period.</summary>
/// <param name="Segments">Segments with a verdict.</param>
public sealed record SegmentPeriod(SegmentKind SegmentKind, Parameter Parameter, int Segments, CountedShare Share);

/// <summary>One instructor's work in the period.</summary>
/// <param name="Assigned">Assignments given.</param>
/// <param name="Graded">Attempts whose grade was signed.</param>
/// <param name="Waiting">Scored attempts at this instructor's assignments without a signed grade, now.</param>
/// <param name="MedianDaysToGrade">Whole days from flight to signed grade, the median of <paramref name="Graded"/>.</param>
/// <param name="Reason">Why there is no median.</param>
public sealed record InstructorPeriod(
    Guid InstructorId,
    string InstructorName,
    int Assigned,
    int Graded,
    int Waiting,
    int? MedianDaysToGrade,
    string? Reason
);

/// <summary>One aircraft in the period.</summary>
/// <param name="Aircraft">Slug of its profile; null where nobody said.</param>
/// <param name="AircraftTitle">Its title; null likewise.</param>
/// <param name="Students">Students who flew it.</param>
public sealed record AircraftPeriod(string? Aircraft, string? AircraftTitle, int Students, CountedShare Share);

/// <summary>One stage and the students who stand there.</summary>
/// <param name="Students">Students whose current stage it is.</param>
/// <param name="Ready">Of these, with nothing missing.</param>
/// <param name="Share">Of the newest attempts that count for these students at it, whenever they were flown.</param>
public sealed record StagePeriod(string StageSlug, string StageTitle, int Students, int Ready, CountedShare Share);

/// <summary>Work of one sort that waits.</summary>
/// <param name="What">
/// <c>unscored</c>, <c>unscorable</c> (of the last 90 days), <c>ungraded</c>, <c>unacknowledged</c>: attempts; <c>overdue</c>: assignments.
/// </param>
/// <param name="OldestOn">Day since which the oldest waits, in the school's zone.</param>
/// <param name="OldestIds">The oldest few, oldest first.</param>
public sealed record AgeingWork(string What, int Count, DateOnly? OldestOn, IReadOnlyList<Guid> OldestIds);

/// <summary>A school's stages, in their order.</summary>
/// <param name="Stages">What each asks for.</param>
/// <param name="Starter">Nobody set them yet: they come from the starter catalogue.</param>
public sealed record SchoolStages(IReadOnlyList<TrainingStage> Stages, bool Starter = false);

/// <summary>Where students stand, 20 a page. It informs; it decides nothing.</summary>
/// <param name="Drills">Titles of the drills that the stages name.</param>
/// <param name="Students">In the order of the stages; in each who is ready first, then by name.</param>
/// <param name="Counts">Of every stage, whatever page is shown.</param>
/// <param name="Total">Students of all pages: of the stage asked for, or of all.</param>
public sealed record SchoolReadiness(
    IReadOnlyList<TrainingStage> Stages,
    IReadOnlyList<DrillName> Drills,
    IReadOnlyList<StudentReadiness> Students,
    IReadOnlyList<StageCount> Counts,
    int Page,
    int PageSize,
    int Total
);

/// <summary>How many students stand at a stage, and how many of them are ready.</summary>
public sealed record StageCount(string StageSlug, int Students, int Ready);

/// <summary>Where one student stands.</summary>
/// <param name="StageSlug">The first stage of which something is missing, or the last; null where the school has none.</param>
/// <param name="Ready">Nothing is missing.</param>
/// <param name="Drills">The drills of that stage with the newest attempts.</param>
public sealed record StudentReadiness(
    Guid StudentId,
    string StudentName,
    string? StageSlug,
    string? StageTitle,
    bool Ready,
    IReadOnlyList<DrillReadiness> Drills
);

/// <summary>One parameter of one segment of one attempt, for a file.</summary>
/// <param name="Verdict">Of the whole attempt, as is <paramref name="AttemptWithinShare"/>.</param>
public sealed record AttemptResult(
    Guid AttemptId,
    DateTimeOffset FlownAtUtc,
    Guid StudentId,
    string StudentName,
    string DrillSlug,
    int DrillVersion,
    string? Aircraft,
    string? AssignedBy,
    string? Grade,
    Verdict? Verdict,
    double? AttemptWithinShare,
    int SegmentIndex,
    SegmentKind SegmentKind,
    Parameter Parameter,
    double DurationS,
    double? WithinShare,
    Verdict SegmentVerdict
);
