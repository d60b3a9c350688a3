namespace SchoolDrills.Engine.Scoring;

/// <summary>What an instructor set by hand over what the engine found by itself.</summary>
/// <param name="Boundaries">Segments with their times as seen by the instructor; segments not named keep the engine's.</param>
/// <param name="LeftOut">Stretches that count neither in nor out, such as traffic avoided.</param>
/// <param name="Run">Which of the found flights of the drill to score, by its place in <see cref="ScoreReport.Runs"/>; the engine's choice when null.</param>
public sealed record HandCorrections(
    IReadOnlyList<HandBoundary>? Boundaries = null,
    IReadOnlyList<LeftOutStretch>? LeftOut = null,
    int? Run = null
)
{
    /// <summary>Nothing is corrected.</summary>
    public bool IsEmpty => Boundaries is not { Count: > 0 } && LeftOut is not { Count: > 0 } && Run is null;
}

/// <summary>The times of one segment as an instructor set them.</summary>
/// <param name="Index">The segment, from 0.</param>
/// <param name="StartUtc">Its start, and so the end of the one before; the engine's when null.</param>
/// <param name="EndUtc">Its end, and so the start of the next; the engine's when null.</param>
public sealed record HandBoundary(int Index, DateTimeOffset? StartUtc = null, DateTimeOffset? EndUtc = null);

/// <summary>A stretch of the drill that is not judged.</summary>
/// <param name="StartUtc">From.</param>
/// <param name="EndUtc">To.</param>
/// <param name="Reason">Why, in the instructor's words.</param>
public sealed record LeftOutStretch(DateTimeOffset StartUtc, DateTimeOffset EndUtc, string Reason);

/// <summary>One flight of the drill within a recording that may hold several.</summary>
/// <param name="Index">Its place in time, from 0.</param>
/// <param name="StartUtc">From.</param>
/// <param name="EndUtc">To.</param>
/// <param name="Confidence">As for the report.</param>
/// <param name="Mirrored">Flown with left and right exchanged against what was asked.</param>
/// <param name="Scored">The one that the report is about.</param>
public sealed record FoundRun(int Index, DateTimeOffset StartUtc, DateTimeOffset EndUtc, double Confidence, bool Mirrored, bool Scored);

/// <summary>Something noted on board: a check ticked, a load task given or answered, relief used, a mark.</summary>
/// <param name="Kind"><c>check</c>, <c>load-task</c>, <c>relief</c>, <c>mark</c>, <c>clock-start</c> or another word that is kept and not judged.</param>
/// <param name="AtUtc">When.</param>
/// <param name="Detail">Which check or task, as the template names it, or free words.</param>
public sealed record FlightEvent(string Kind, DateTimeOffset AtUtc, string? Detail = null);

/// <summary>A way of scanning that would explain what was seen, to talk about and not to be taken as measured.</summary>
/// <param name="Kind"><c>fixation</c>, <c>omission</c> or <c>emphasis</c>.</param>
/// <param name="Parameter">The instrument it is about.</param>
/// <param name="StartUtc">From.</param>
/// <param name="EndUtc">To.</param>
/// <param name="Text">One sentence, a suggestion with its evidence.</param>
public sealed record ScanHint(string Kind, Drills.Parameter Parameter, DateTimeOffset StartUtc, DateTimeOffset EndUtc, string Text);
