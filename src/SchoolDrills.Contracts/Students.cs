using System.Text.Json.Serialization;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Contracts;

/// <summary>Why a student needs an instructor, the most pressing first.</summary>
[JsonConverter(typeof(Engine.KebabCase<StudentNeed>))]
public enum StudentNeed
{
    /// <summary>A drill is past its day and was not flown.</summary>
    Overdue,

    /// <summary>A flight waits for its grade.</summary>
    ToGrade,

    /// <summary>Five attempts or more at one drill, and no way to the standard in sight.</summary>
    Stuck,

    /// <summary>The newest attempts met the drill's standard.</summary>
    Ready,

    /// <summary>None of these.</summary>
    None,
}

/// <summary>The order of a list of students.</summary>
public enum StudentSort
{
    /// <summary>Who needs an instructor first.</summary>
    Need,

    /// <summary>By name.</summary>
    Name,

    /// <summary>Who flew longest ago first, then who never did.</summary>
    LastFlown,

    /// <summary>What is due first, then what has no day.</summary>
    Due,

    /// <summary>By drills that are past their day, the fewest first.</summary>
    Overdue,

    /// <summary>By flights that wait for a grade, the fewest first.</summary>
    ToGrade,
}

/// <summary>Students, a page of them.</summary>
/// <param name="Total">Students on all pages.</param>
/// <param name="Needs">How many of them need what; needs of nobody are left out.</param>
public sealed record StudentList(IReadOnlyList<StudentStanding> Items, int Page, int PageSize, int Total, IReadOnlyList<NeedCount> Needs);

/// <summary>How many students have a need as their most pressing one.</summary>
public sealed record NeedCount(StudentNeed Need, int Students);

/// <summary>Where one student stands.</summary>
/// <param name="Need">The most pressing reason to look at this student.</param>
/// <param name="Open">Drills assigned and not flown yet.</param>
/// <param name="Overdue">Of these, past their day.</param>
/// <param name="DueOn">The earliest day on which one of these is due.</param>
/// <param name="ToGrade">Flights without a signed grade.</param>
/// <param name="WaitingSinceUtc">When the oldest of these was uploaded.</param>
/// <param name="Going">Why the student is stuck at the drill flown last, or ready to go on from it; null where neither can be said.</param>
/// <param name="LastFlownAtUtc">When the newest scored attempt was flown.</param>
/// <param name="LastAttempt">That attempt.</param>
/// <param name="Weakest">The weakest kind of segment, where it keeps failing.</param>
/// <param name="Next">The drill to fly next; null where too little was flown to say.</param>
public sealed record StudentStanding(
    Guid StudentId,
    string StudentName,
    StudentNeed Need,
    int Open,
    int Overdue,
    DateOnly? DueOn,
    int ToGrade,
    DateTimeOffset? WaitingSinceUtc,
    string? Going,
    DateTimeOffset? LastFlownAtUtc,
    AttemptSummary? LastAttempt,
    WeakSpot? Weakest,
    NextStep? Next
);

/// <summary>A page of instructors' notes on a student, newest first.</summary>
/// <param name="Total">Notes on all pages.</param>
public sealed record StudentNotePage(IReadOnlyList<StudentNote> Items, int Page, int PageSize, int Total);

/// <summary>What an instructor noted on a student, for other instructors.</summary>
/// <param name="Mine">Whether the reader wrote it, and may change and delete it.</param>
/// <param name="ChangedAtUtc">Null where it stands as it was first written.</param>
/// <param name="Revision">A save names the one it replaces.</param>
public sealed record StudentNote(
    Guid Id,
    Guid StudentId,
    string WrittenBy,
    bool Mine,
    DateTimeOffset WrittenAtUtc,
    DateTimeOffset? ChangedAtUtc,
    string Text,
    int Revision
)
{
    /// <summary>Characters.</summary>
    public const int LongestText = 4000;
}

/// <summary>Adds a note, or changes one.</summary>
/// <param name="Revision">The revision that was read; 0 for a new note.</param>
public sealed record SaveStudentNote(string Text, int Revision = 0);

/// <summary>A kind of segment that keeps failing.</summary>
/// <param name="NotMetShare">Estimated share not met now, 0 to 1.</param>
/// <param name="Attempts">Attempts with a verdict.</param>
public sealed record WeakSpot(SegmentKind SegmentKind, Parameter Parameter, double NotMetShare, int Attempts, SegmentExample Example);

/// <summary>A drill to fly next.</summary>
/// <param name="AssignmentId">The assignment by which it is to be flown already; null where there is none.</param>
/// <param name="DueOn">When that is due.</param>
public sealed record NextStep(NextDrillSuggestion Drill, Guid? AssignmentId = null, DateOnly? DueOn = null);
