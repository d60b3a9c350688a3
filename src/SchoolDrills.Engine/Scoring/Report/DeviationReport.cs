using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>How far one parameter was from its target over a segment.</summary>
public sealed record DeviationReport
{
    /// <summary>What was measured.</summary>
    public required Parameter Parameter { get; init; }

    /// <summary><c>ft</c>, <c>deg</c>, <c>kt</c>, <c>fpm</c>, <c>deg/s</c> or <c>s</c>.</summary>
    public required string Unit { get; init; }

    /// <summary>Allowed either side.</summary>
    public required double Tolerance { get; init; }

    /// <summary>Mean of the absolute deviation.</summary>
    public double? MeanAbs { get; init; }

    /// <summary>Root mean square of the deviation.</summary>
    public double? Rms { get; init; }

    /// <summary>Largest absolute deviation.</summary>
    public double? MaxAbs { get; init; }

    /// <summary>Signed deviation, actual minus target, where it was largest.</summary>
    public double? Worst { get; init; }

    /// <summary>When it was largest.</summary>
    public DateTimeOffset? WorstAtUtc { get; init; }

    /// <summary>One standard deviation of the measurement itself.</summary>
    public double? Sigma { get; init; }

    /// <summary>Share of the segment's time within tolerance, 0 to 1.</summary>
    public double? WithinShare { get; init; }

    /// <summary>Time outside tolerance, seconds.</summary>
    public double? OutsideS { get; init; }

    /// <summary>Longest single time outside, seconds.</summary>
    public double? LongestOutsideS { get; init; }

    /// <summary>Median time from leaving tolerance to starting back, seconds; null where tolerance was never left.</summary>
    public double? CorrectionS { get; init; }

    /// <summary>How it stands.</summary>
    public required Verdict Verdict { get; init; }

    /// <summary>The chance that the verdict is right, 0 to 1; null where there is none.</summary>
    public double? Probability { get; init; }

    /// <summary>The rule and the numbers that gave the verdict, one sentence.</summary>
    public required string Why { get; init; }
}
