using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>A time outside tolerance.</summary>
/// <param name="StartS">From, seconds since the recording's epoch.</param>
/// <param name="EndS">To, seconds since the recording's epoch.</param>
/// <param name="Worst">Signed deviation where it was largest.</param>
/// <param name="WorstAtS">When that was, seconds since the recording's epoch.</param>
public readonly record struct Exceedance(double StartS, double EndS, double Worst, double WorstAtS)
{
    /// <summary>Length, seconds.</summary>
    public double DurationS => EndS - StartS;
}

/// <summary>One parameter over one segment, in numbers.</summary>
/// <param name="Parameter">What.</param>
/// <param name="Within">Allowed either side.</param>
/// <param name="Sigma">One standard deviation of the measurement.</param>
/// <param name="MeanAbs">Mean of the absolute deviation.</param>
/// <param name="Mean">Mean of the signed deviation.</param>
/// <param name="Rms">Root mean square.</param>
/// <param name="Worst">Signed deviation where it was largest.</param>
/// <param name="WorstAtS">When, seconds since the recording's epoch.</param>
/// <param name="MeasuredS">Time measured, seconds.</param>
/// <param name="OutsideS">Time outside, seconds.</param>
/// <param name="Exceedances">Every time outside.</param>
public sealed record Deviation(
    Parameter Parameter,
    double Within,
    double Sigma,
    double MeanAbs,
    double Mean,
    double Rms,
    double Worst,
    double WorstAtS,
    double MeasuredS,
    double OutsideS,
    IReadOnlyList<Exceedance> Exceedances
)
{
    /// <summary>Share of the measured time within tolerance, 0 to 1; NaN where nothing was measured.</summary>
    public double WithinShare => MeasuredS > 0 ? 1 - (OutsideS / MeasuredS) : double.NaN;

    /// <summary>Median time from leaving tolerance to starting to correct, seconds; NaN where it was not left in this segment.</summary>
    public double CorrectionS { get; init; } = double.NaN;

    /// <summary>Longest single time outside, seconds.</summary>
    public double LongestOutsideS => Exceedances.Count == 0 ? 0 : Exceedances.Max(e => e.DurationS);
}
