namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// How noisy a recording is: the noise with which <see cref="Smoother"/>'s filter predicts its samples best, by the likelihood of the
/// innovations. A phone on a knee may record positions ten times as noisy as one on the glare shield.
/// </summary>
internal static class RecordingNoise
{
    /// <summary>Noise of columns as a factor of the expected sigma, at least 1: a column with little noise may still drift.</summary>
    /// <param name="timeS">Times, seconds, strictly rising.</param>
    /// <param name="columns">Columns with one noise in common, NaN where nothing was measured.</param>
    /// <param name="sigma">Expected standard deviation of a measurement taken once a second, in the values' unit.</param>
    /// <param name="jerk">Spectral density of the driving jerk, unit/s³ per √Hz.</param>
    /// <param name="gapS">Time between samples beyond which nothing is carried over, seconds.</param>
    public static double Ratio(double[] timeS, IReadOnlyList<double[]> columns, double sigma, double jerk, double gapS)
    {
        double ratio = 1,
            cost = Cost(ratio);
        while (ratio < SensorModel.MostNoise && Cost(ratio * SensorModel.NoiseStep) is var next && next < cost)
            (ratio, cost) = (ratio * SensorModel.NoiseStep, next);
        return ratio;

        double Cost(double at) => columns.Sum(values => InnovationCost(timeS, values, sigma * at, 0, jerk, gapS));
    }

    /// <summary>Sigma that noise above the expected adds to a smoothed rate, in the unit of the rate.</summary>
    /// <remarks>
    /// The variance of a rate grows with the square root of the noise's density, as the noise itself: at ratio k all but 1/k of it is
    /// added.
    /// </remarks>
    /// <param name="rateSigma">Sigmas of the rate as smoothed with the noise found.</param>
    /// <param name="ratio">Noise found, as a factor.</param>
    public static double AddedToRate(double[] rateSigma, double ratio)
    {
        var known = Array.FindAll(rateSigma, double.IsFinite);
        if (known.Length == 0)
            return 0;
        Array.Sort(known);
        return known[known.Length / 2] * Math.Sqrt(1 - (1 / ratio));
    }

    /// <summary>
    /// Drift of a column besides its white noise, as the density of a random walk: unit per √s, at least the usual.
    /// </summary>
    /// <param name="timeS">Times, seconds, strictly rising.</param>
    /// <param name="values">The column, NaN where nothing was measured.</param>
    /// <param name="white">Usual white noise, one standard deviation once a second, in the values' unit: where the search starts.</param>
    /// <param name="usual">Usual drift: where the search starts, and the least.</param>
    /// <param name="jerk">Spectral density of the driving jerk, unit/s³ per √Hz.</param>
    /// <param name="gapS">Time between samples beyond which nothing is carried over, seconds.</param>
    public static double Drift(double[] timeS, double[] values, double white, double usual, double jerk, double gapS)
    {
        var best = (White: white, Drift: usual, Cost: Cost(white, usual));
        while (true)
        {
            var (w, r, cost) = best;
            foreach (
                var (nextWhite, nextDrift) in new[]
                {
                    (w, r * SensorModel.NoiseStep),
                    (w * SensorModel.NoiseStep, r),
                    (w / SensorModel.NoiseStep, r),
                    (w, Math.Max(usual, r / SensorModel.NoiseStep)),
                }
            )
            {
                if (
                    nextWhite < white / 4
                    || nextWhite > white * SensorModel.MostNoise
                    || nextDrift > usual * SensorModel.MostNoise
                    || (nextWhite, nextDrift) == (w, r)
                )
                {
                    continue;
                }

                if (Cost(nextWhite, nextDrift) is var next && next < best.Cost)
                    best = (nextWhite, nextDrift, next);
            }

            if (best.Cost >= cost)
                return r;
        }

        double Cost(double sigma, double drift) => InnovationCost(timeS, values, sigma, drift, jerk, gapS);
    }

    /// <summary>Sigma that drift above the usual adds to a smoothed rate, in the rate's unit.</summary>
    /// <remarks>
    /// The smoother passes 1/(1 + (ωτ)⁶) with τ = (sigma/jerk)^⅓. The rate of a random walk is white, so that of its density squared
    /// ∫ (1 + x⁶)⁻² dx / 2πτ = 0.278/τ comes through.
    /// </remarks>
    /// <param name="drift">Drift found.</param>
    /// <param name="usual">Usual drift.</param>
    /// <param name="sigma">Noise used in smoothing.</param>
    /// <param name="jerk">Jerk used in smoothing.</param>
    public static double AddedByDrift(double drift, double usual, double sigma, double jerk) =>
        Math.Sqrt(((drift * drift) - (usual * usual)) * 0.278 / Math.Cbrt(sigma / jerk));

    /// <summary>Twice the negative logarithm of the likelihood of the innovations: each sample against its prediction.</summary>
    private static double InnovationCost(double[] timeS, double[] values, double sigma, double drift, double jerk, double gapS)
    {
        Smoother.State state = default;
        double cost = 0,
            lastS = double.NegativeInfinity;
        for (var i = 0; i < timeS.Length; i++)
        {
            if (!double.IsFinite(values[i]))
                continue;
            var spacingS = timeS[i] - lastS;
            lastS = timeS[i];
            if (spacingS > gapS)
            {
                state = Smoother.First(values[i], 0, sigma);
                continue;
            }

            state = Smoother.Predict(state, spacingS, jerk);
            state = state with { Pvv = state.Pvv + (drift * drift * spacingS) };
            var noise = Smoother.Variance(sigma, spacingS);
            var (variance, innovation) = (state.Pvv + noise, values[i] - state.Value);
            cost +=
                Math.Log(variance)
                + (
                    (SensorModel.InnovationFreedom + 1)
                    * Math.Log(1 + (innovation * innovation / (SensorModel.InnovationFreedom * variance)))
                );
            state = Smoother.Update(state, values[i], noise);
        }

        return cost;
    }
}
