using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Charts;

/// <summary>What has been moved and marked on the strips and is not yet scored. Times in milliseconds since 1970.</summary>
/// <param name="Boundaries">Boundaries away from where the engine has them.</param>
/// <param name="Excluded">Stretches not to be judged.</param>
/// <param name="Steps">Steps that can be undone.</param>
public sealed record PendingAdjustments(IReadOnlyList<MovedBoundary> Boundaries, IReadOnlyList<MarkedStretch> Excluded, int Steps)
{
    /// <summary>As the engine takes it. A boundary between two segments is the start of the second.</summary>
    /// <param name="reasonOf">The instructor's reason for excluding a stretch.</param>
    /// <param name="run">Which flight of the drill; the engine's choice when null.</param>
    public ManualCorrections ToCorrections(Func<MarkedStretch, string> reasonOf, int? run) =>
        new(
            [.. Boundaries.GroupBy(b => b.Index).OrderBy(g => g.Key).Select(g => new ManualBoundary(g.Key, At(g, "start"), At(g, "end")))],
            [.. Excluded.Select(s => new ExcludedStretch(s.Start, s.End, reasonOf(s)))],
            run
        );

    private static DateTimeOffset? At(IEnumerable<MovedBoundary> boundaries, string edge) =>
        boundaries.FirstOrDefault(b => b.Edge == edge)?.At;

    internal static DateTimeOffset Instant(double ms) => DateTimeOffset.UnixEpoch.AddMilliseconds(Math.Round(ms));
}

/// <summary>A boundary and where the engine has it.</summary>
/// <param name="Index">Segment, from 0.</param>
/// <param name="Edge"><c>start</c> or <c>end</c>.</param>
/// <param name="AtMs">Where it was moved to.</param>
/// <param name="EngineMs">Where the engine has it.</param>
public sealed record MovedBoundary(int Index, string Edge, double AtMs, double EngineMs)
{
    /// <summary>Where it was moved to.</summary>
    public DateTimeOffset At => PendingAdjustments.Instant(AtMs);

    /// <summary>Seconds by which it was moved, later positive.</summary>
    public double MovedS => (AtMs - EngineMs) / 1000;
}

/// <summary>A stretch not to be judged.</summary>
public sealed record MarkedStretch(double StartMs, double EndMs)
{
    /// <summary>From.</summary>
    public DateTimeOffset Start => PendingAdjustments.Instant(StartMs);

    /// <summary>To.</summary>
    public DateTimeOffset End => PendingAdjustments.Instant(EndMs);
}
