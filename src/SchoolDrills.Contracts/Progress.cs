using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Contracts;

/// <summary>A student's share of time in tolerance over attempts, by parameter.</summary>
/// <param name="Parameters">One for each parameter and group of like attempts, the newest group of a parameter first.</param>
public sealed record StudentProgress(Guid StudentId, string StudentName, IReadOnlyList<ParameterProgress> Parameters)
{
    /// <summary>How the student's own verdicts differ from the measured ones, by like attempts.</summary>
    public IReadOnlyList<Calibration> SelfAssessment { get; init; } = [];
}

/// <summary>One parameter over like attempts.</summary>
/// <param name="StandardShare">Share the standard asks for.</param>
/// <param name="TrendPerAttempt">Change of share an attempt; null where none is claimed.</param>
/// <param name="Reason">Why no forecast is given.</param>
public sealed record ParameterProgress(
    Parameter Parameter,
    string Unit,
    IReadOnlyList<ProgressPoint> Points,
    double StandardShare,
    double? TrendPerAttempt,
    string? Reason
)
{
    /// <summary>What the attempts have in common.</summary>
    public required AttemptGroup Group { get; init; }

    /// <summary>80 % interval of the trend; null with too few attempts.</summary>
    public Interval? TrendInterval { get; init; }

    /// <summary>Attempts to the standard.</summary>
    public ProgressForecast? Forecast { get; init; }

    /// <summary>The same by kind of segment.</summary>
    public IReadOnlyList<KindProgress> Kinds { get; init; } = [];
}

/// <summary>One kind of segment over the attempts of its parameter.</summary>
/// <param name="TrendPerAttempt">Change of share an attempt; null where none is claimed.</param>
/// <param name="Reason">Why none is claimed.</param>
public sealed record KindProgress(SegmentKind SegmentKind, IReadOnlyList<ProgressPoint> Points, double? TrendPerAttempt, string? Reason);

/// <summary>One attempt: the share and its 80 % interval.</summary>
public sealed record ProgressPoint(Guid AttemptId, string DrillSlug, DateTimeOffset FlownOn, double WithinShare, double Lo, double Hi);

/// <summary>Attempts to the standard and their 80 % interval, whole attempts.</summary>
public sealed record ProgressForecast(int AttemptsToStandard, int Lo, int Hi);
