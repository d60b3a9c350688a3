using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>One segment as flown.</summary>
public sealed record SegmentReport
{
    /// <summary>Position in the drill, from 0.</summary>
    public required int Index { get; init; }

    /// <summary>Name as the template gives it.</summary>
    public required string Name { get; init; }

    /// <summary>What is to be flown.</summary>
    public required SegmentKind Kind { get; init; }

    /// <summary>Start on the drill clock, seconds.</summary>
    public required double NominalStartS { get; init; }

    /// <summary>End on the drill clock, seconds.</summary>
    public required double NominalEndS { get; init; }

    /// <summary>Whether it was flown.</summary>
    public required SegmentStatus Status { get; init; }

    /// <summary>When the pilot began its maneuver; null when skipped.</summary>
    public DateTimeOffset? StartUtc { get; init; }

    /// <summary>When the pilot began the next; null when skipped.</summary>
    public DateTimeOffset? EndUtc { get; init; }

    /// <summary>One standard deviation of the start, seconds; null when skipped and in reports of earlier engines.</summary>
    public double? StartSigmaS { get; init; }

    /// <summary>One standard deviation of the end, seconds; null when skipped and in reports of earlier engines.</summary>
    public double? EndSigmaS { get; init; }

    /// <summary>
    /// Start against the clock started at the drill's found start, seconds, late positive. After a pause it is against the clock by which
    /// the drill was resumed, and null for the segment that resumed it.
    /// </summary>
    public double? StartErrorS { get; init; }

    /// <summary>End against the same clock, seconds, late positive.</summary>
    public double? EndErrorS { get; init; }

    /// <summary>Deviations by parameter.</summary>
    public IReadOnlyList<DeviationReport> Deviations { get; init; } = [];

    /// <summary>Planned change of heading, degrees, right positive; null in reports of earlier engines.</summary>
    public double? TurnDeg { get; init; }

    /// <summary>The segment as a whole.</summary>
    public required Verdict Verdict { get; init; }

    /// <summary>The chance that the verdict is right, 0 to 1; null where there is none.</summary>
    public double? Probability { get; init; }
}
