using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>What was laid on top of the flying, how it was dealt with, and what it did to the flying.</summary>
/// <param name="Tasks">Load tasks that were given, in time.</param>
/// <param name="Checks">Checks whose window was flown, in time.</param>
/// <param name="Loaded">Times under load, apart and in time: from a task's being given until it was answered.</param>
/// <param name="Changes">How the flying changed under load, by segment kind and parameter; what could be told first.</param>
/// <param name="Episodes">Episodes of saturation, in time, in the order of <see cref="ScoreReport.Saturation"/>.</param>
/// <param name="PerMin">Tasks given and checks done, a minute of the drill.</param>
/// <param name="Level">Load flown, 1 (none) to 5.</param>
public sealed record WorkloadReport(
    IReadOnlyList<LoadTaskResult> Tasks,
    IReadOnlyList<CheckResult> Checks,
    IReadOnlyList<LoadedTime> Loaded,
    IReadOnlyList<LoadChange> Changes,
    IReadOnlyList<EpisodeDetail> Episodes,
    double PerMin,
    int Level
)
{
    /// <summary>Load ratings noted during the drill and soon after, in time.</summary>
    public IReadOnlyList<LoadRatingNote> Ratings
    {
        get;
        init => field = value ?? [];
    } = [];
}

/// <summary>A load rating noted on board.</summary>
/// <param name="AtUtc">When.</param>
/// <param name="Rating">1 (none) to 5.</param>
public sealed record LoadRatingNote(DateTimeOffset AtUtc, int Rating);

/// <summary>A load task that was given.</summary>
/// <param name="Name">As noted, else as the drill names it.</param>
/// <param name="SegmentIndex">Segment in which it was given.</param>
/// <param name="GivenUtc">When.</param>
/// <param name="AnsweredUtc">When it was answered; null where no answer was noted.</param>
/// <param name="DelayS">From being given to the answer, seconds.</param>
/// <param name="Outcome">How it ended.</param>
public sealed record LoadTaskResult(
    string Name,
    int SegmentIndex,
    DateTimeOffset GivenUtc,
    DateTimeOffset? AnsweredUtc,
    double? DelayS,
    LoadOutcome Outcome
);

/// <summary>A time under load.</summary>
/// <param name="StartUtc">From.</param>
/// <param name="EndUtc">To.</param>
/// <param name="Tasks">Names of the tasks.</param>
public sealed record LoadedTime(DateTimeOffset StartUtc, DateTimeOffset EndUtc, IReadOnlyList<string> Tasks);

/// <summary>
/// How far a parameter was off its target under load beside the quiet flying of the same flight in segments of the same kind.
/// </summary>
/// <param name="Kind">Kind of segment.</param>
/// <param name="Parameter">What.</param>
/// <param name="Unit">Unit of the figures.</param>
/// <param name="Quiet">Mean absolute deviation while nothing was laid on.</param>
/// <param name="Loaded">The same under load and shortly after.</param>
/// <param name="Lo">Lower end of the 80 % interval of the change; null where there is too little to tell.</param>
/// <param name="Hi">Upper end.</param>
/// <param name="Reason">Why no interval is told.</param>
public sealed record LoadChange(
    SegmentKind Kind,
    Parameter Parameter,
    string Unit,
    double? Quiet,
    double? Loaded,
    double? Lo,
    double? Hi,
    string? Reason
);

/// <summary>What is known of an episode of saturation beyond its time.</summary>
/// <param name="StartUtc">Onset: two or more parameters out.</param>
/// <param name="First">What left its tolerance first; null where several did at once.</param>
/// <param name="FirstUtc">When.</param>
/// <param name="RecoveryS">From the onset until no more than one was out, seconds.</param>
/// <param name="After">What had been given shortly before; null where nothing was.</param>
/// <param name="ReliefUtc">When relief was used about it; null where it was not.</param>
/// <param name="Relief">Which, as noted.</param>
/// <param name="ReliefHelped">The episode ended soon after it; null where none was used.</param>
public sealed record EpisodeDetail(
    DateTimeOffset StartUtc,
    Parameter? First,
    DateTimeOffset? FirstUtc,
    double RecoveryS,
    string? After,
    DateTimeOffset? ReliefUtc,
    string? Relief,
    bool? ReliefHelped
);
