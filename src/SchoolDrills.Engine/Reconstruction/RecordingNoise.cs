namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// How rough a recording is: the noise under which <see cref="Smoother"/>'s filter would have foretold its samples best, that is, with
/// the largest likelihood of the innovations. A phone between a window and a knee may write positions ten times as unsteady as one on
/// the glare shield.
/// </summary>
internal static class RecordingNoise
{
    /// <summary>Steps in which the noise is looked for, and the largest, as factors of the expected sigma.</summary>
    private const double Step = 1.4, Most = 60;

    /// <summary>Degrees of freedom of the t-distribution that surprises are held against: a jump says little about the noise.</summary>
    private const double Freedom = 10;

    /// <summary>Noise of columns as a factor of the sigma expected, 1 at least: what is steadier than expected may still wander.</summary>
    /// <param name="timeS">Times, seconds, strictly rising.</param>
    /// <param name="columns">Columns with one noise in common, NaN where nothing was measured.</param>
    /// <param name="sigma">Expected standard deviation of a measurement taken once a second, in the values' unit.</param>
    /// <param name="jerk">Spectral density of the driving jerk, unit/s³ per √Hz.</param>
    /// <param name="gapS">Time between samples beyond which nothing is carried over, seconds.</param>
    public static double Ratio(double[] timeS, IReadOnlyList<double[]> columns, double sigma, double jerk, double gapS)
    {
        double ratio = 1, cost = Cost(ratio);
        while (ratio < Most && Cost(ratio * Step) is var next && next < cost) (ratio, cost) = (ratio * Step, next);
        return ratio;

        double Cost(double at) => columns.Sum(values => InnovationCost(timeS, values, sigma * at, jerk, gapS));
    }

    /// <summary>What noise beyond the expected adds to a sigma that the smoother gives for a rate, in the unit of the rate.</summary>
    /// <remarks>The variance of a rate grows with the square root of the noise's density, as the noise itself: at ratio k all but 1/k of it is added.</remarks>
    /// <param name="rateSigma">Sigmas of the rate as smoothed with the noise found.</param>
    /// <param name="ratio">The noise found.</param>
    public static double AddedToRate(double[] rateSigma, double ratio)
    {
        var known = Array.FindAll(rateSigma, double.IsFinite);
        if (known.Length == 0) return 0;
        Array.Sort(known);
        return known[known.Length / 2] * Math.Sqrt(1 - (1 / ratio));
    }

    /// <summary>Twice the negative logarithm of the likelihood of what each sample is off from what those before it foretold.</summary>
    private static double InnovationCost(double[] timeS, double[] values, double sigma, double jerk, double gapS)
    {
        Smoother.State state = default;
        double cost = 0, lastS = double.NegativeInfinity;
        for (var i = 0; i < timeS.Length; i++)
        {
            if (!double.IsFinite(values[i])) continue;
            var spacingS = timeS[i] - lastS;
            lastS = timeS[i];
            if (spacingS > gapS)
            {
                state = Smoother.First(values[i], 0, sigma);
                continue;
            }

            state = Smoother.Predict(state, spacingS, jerk);
            var noise = Smoother.Variance(sigma, spacingS);
            var (variance, surprise) = (state.Pvv + noise, values[i] - state.Value);
            cost += Math.Log(variance) + ((Freedom + 1) * Math.Log(1 + (surprise * surprise / (Freedom * variance))));
            state = Smoother.Update(state, values[i], noise);
        }

        return cost;
    }
}
