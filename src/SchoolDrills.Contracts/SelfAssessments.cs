using SchoolDrills.Engine.LoadScales;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Contracts;

/// <summary>What the student thinks of the flight before the score is shown.</summary>
/// <param name="Segments">Own verdicts, for as many segments as the student has one.</param>
/// <param name="LoadRatings">Own load, 1 to 5, in the order asked.</param>
/// <param name="Skipped">The score is wanted without; the rest is then left out.</param>
/// <param name="TaskLoad">The task load on six scales, where the school asks for it.</param>
/// <param name="Bedford">Spare capacity, 1 (most) to 10 (given up), where the school asks for it.</param>
public sealed record PutSelfAssessment(
    IReadOnlyList<SelfVerdict>? Segments = null,
    IReadOnlyList<int>? LoadRatings = null,
    string? Comment = null,
    bool Skipped = false,
    TaskLoad? TaskLoad = null,
    int? Bedford = null
);

/// <summary>The student's own verdict on one segment.</summary>
/// <param name="Verdict"><c>met</c>, <c>close</c>, <c>not-met</c>, or <c>not-measured</c> for "I cannot tell".</param>
/// <param name="LoadRating">How loaded he was, 1 to 5.</param>
public sealed record SelfVerdict(int Index, Verdict Verdict, int? LoadRating = null);

/// <summary>A self-assessment as it was given.</summary>
/// <param name="GivenAtUtc">When; null where it was skipped.</param>
/// <param name="SkippedAtUtc">When the student asked for the score without; what is given after that was given knowing it.</param>
public sealed record SelfAssessmentView(
    DateTimeOffset? GivenAtUtc,
    DateTimeOffset? SkippedAtUtc,
    IReadOnlyList<SelfVerdict> Segments,
    IReadOnlyList<int> LoadRatings,
    string? Comment,
    TaskLoad? TaskLoad = null,
    int? Bedford = null
);
