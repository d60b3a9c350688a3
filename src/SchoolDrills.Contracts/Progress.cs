using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Contracts;

/// <summary>A student's share of time in tolerance over attempts, by parameter.</summary>
public sealed record StudentProgress(Guid StudentId, string StudentName, IReadOnlyList<ParameterProgress> Parameters);

/// <summary>One parameter over attempts.</summary>
/// <param name="StandardShare">Share the standard asks for.</param>
/// <param name="TrendPerAttempt">Change of share an attempt, null with fewer than four attempts.</param>
/// <param name="Reason">Why no forecast is given.</param>
public sealed record ParameterProgress(
    Parameter Parameter,
    string Unit,
    IReadOnlyList<ProgressPoint> Points,
    double StandardShare,
    double? TrendPerAttempt,
    string? Reason
);

/// <summary>One attempt: the share and its 90 % interval.</summary>
public sealed record ProgressPoint(Guid AttemptId, string DrillSlug, DateTimeOffset FlownOn, double WithinShare, double Lo, double Hi);
