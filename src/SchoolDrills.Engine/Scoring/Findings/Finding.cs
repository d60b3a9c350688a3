using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>One thing that went wrong, with time, size and a plain sentence.</summary>
/// <param name="SegmentIndex">The segment it belongs to, null for the whole drill.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Parameter">What it was seen in.</param>
/// <param name="Magnitude">How much, in <paramref name="Unit"/>.</param>
/// <param name="Unit">Unit of the magnitude.</param>
/// <param name="AtUtc">When.</param>
/// <param name="Text">One sentence in an instructor's words.</param>
public sealed record Finding(
    int? SegmentIndex,
    FindingKind Kind,
    Parameter Parameter,
    double Magnitude,
    string Unit,
    DateTimeOffset? AtUtc,
    string Text
)
{
    /// <summary>How likely it is true, 0 to 1; null in reports of earlier engines.</summary>
    public double? Probability { get; init; }
}
