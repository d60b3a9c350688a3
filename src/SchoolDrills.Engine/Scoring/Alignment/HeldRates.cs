using System.Runtime.Intrinsics;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// The rates that may have been held in a segment, side by side: for a start chosen once, the likeliest of them over stretches that end
/// anywhere costs a few vector operations a stretch. This is the innermost work of <see cref="ReadingSearch"/>.
/// </summary>
internal sealed class HeldRates
{
    private const int Lanes = 4;

    private readonly int width;
    private readonly double[] sums;
    private readonly double[] priors;
    private Vector256<double> low,
        high;

    /// <param name="evidence">Running sum of the evidence for each rate.</param>
    /// <param name="probabilities">How often each is held; at most eight.</param>
    public HeldRates(double[][] evidence, double[] probabilities)
    {
        width = evidence.Length <= Lanes ? Lanes : 2 * Lanes;
        priors = new double[width];
        Array.Fill(priors, double.NegativeInfinity);
        sums = new double[evidence[0].Length * width];
        for (var r = 0; r < evidence.Length; r++)
        {
            priors[r] = Math.Log(probabilities[r]);
            for (var t = 0; t < evidence[r].Length; t++)
                sums[(t * width) + r] = evidence[r][t];
        }
    }

    /// <summary>Chooses where the stretches begin.</summary>
    /// <param name="start">First step of the grid.</param>
    public void Begin(int start)
    {
        low = Vector256.Create<double>(priors) - Row(start);
        if (width > Lanes)
            high = Vector256.Create<double>(priors.AsSpan(Lanes)) - Row(start, Lanes);
    }

    /// <summary>Log odds of the likeliest rate from the start to an end.</summary>
    /// <param name="end">The step after the last.</param>
    public double Likeliest(int end)
    {
        var most = Row(end) + low;
        if (width > Lanes)
            most = Vector256.Max(most, Row(end, Lanes) + high);
        var half = Vector128.Max(most.GetLower(), most.GetUpper());
        return Math.Max(half[0], half[1]);
    }

    private Vector256<double> Row(int t, int lane = 0) => Vector256.Create<double>(sums.AsSpan((t * width) + lane, Lanes));
}
