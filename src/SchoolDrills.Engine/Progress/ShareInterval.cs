using MathNet.Numerics.Distributions;

namespace SchoolDrills.Engine.Progress;

/// <summary>How well a share of time in tolerance is known.</summary>
/// <remarks>
/// Seconds of one flight are not independent: a pilot who is 120 ft high stays so for a while. A share of measured time is therefore
/// treated as a proportion in as many independent samples as decorrelation times fit into it, and given Wilson's score interval, which
/// stays within 0 to 1 and is not empty at a share of 1 (Wilson, E. B., "Probable inference, the law of succession, and statistical
/// inference", Journal of the American Statistical Association 22, 1927, 209–212).
/// </remarks>
public static class ShareInterval
{
    private static readonly double Quantile = Normal.InvCDF(0, 1, 1 - ProgressModel.Tail);

    /// <summary>Independent samples in a measured time.</summary>
    /// <param name="measuredS">Time measured, seconds.</param>
    internal static double Samples(double measuredS) => measuredS / ProgressModel.DecorrelationS;

    /// <summary>The 80 % interval of a proportion in independent samples; their number need not be whole.</summary>
    /// <param name="share">Proportion, 0 to 1.</param>
    /// <param name="samples">Number of independent samples, above 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">A share outside 0 to 1, or no samples.</exception>
    public static Interval OfSamples(double share, double samples) => Wilson(share, samples, Quantile);

    /// <summary>The same at any quantile of the standard normal distribution.</summary>
    internal static Interval Wilson(double share, double samples, double quantile)
    {
        if (!(share is >= 0 and <= 1))
            throw new ArgumentOutOfRangeException(nameof(share), share, "A share is 0 to 1.");
        if (!(samples > 0))
            throw new ArgumentOutOfRangeException(nameof(samples), samples, "An interval needs samples.");
        var z2 = quantile * quantile;
        var centre = (share + (z2 / (2 * samples))) / (1 + (z2 / samples));
        var half = quantile / (1 + (z2 / samples)) * Math.Sqrt((share * (1 - share) / samples) + (z2 / (4 * samples * samples)));
        return new(Math.Clamp(centre - half, 0, share), Math.Clamp(centre + half, share, 1));
    }
}
