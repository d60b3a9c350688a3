namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// How rough a recording is: the noise under which <see cref="Smoother"/>'s filter would have foretold its samples best, that is, with
/// the largest likelihood of the innovations. A phone between a window and a knee may write positions ten times as unsteady as one on
/// the glare shield.
/// </summary>
internal static class RecordingNoise
{
    /// <summary>Noise of columns as a factor of the sigma expected, 1 at least: what is steadier than expected may still wander.</summary>
    /// <param name="timeS">Times, seconds, strictly rising.</param>
    /// <param name="columns">Columns with one noise in common, NaN where nothing was measured.</param>
    /// <param name="sigma">Expected standard deviation of a measurement taken once a second, in the values' unit.</param>
    /// <param name="jerk">Spectral density of the driving jerk, unit/s³ per √Hz.</param>
    /// <param name="gapS">Time between samples beyond which nothing is carried over, seconds.</param>
    public static double Ratio(double[] timeS, IReadOnlyList<double[]> columns, double sigma, double jerk, double gapS)
    {
        double ratio = 1,
            cost = Cost(ratio);
        while (ratio < SensorModel.Most && Cost(ratio * SensorModel.Step) is var next && next < cost)
            (ratio, cost) = (ratio * SensorModel.Step, next);
        return ratio;

        double Cost(double at) => columns.Sum(values => InnovationCost(timeS, values, sigma * at, 0, jerk, gapS));
    }

    /// <summary>What noise beyond the expected adds to a sigma that the smoother gives for a rate, in the unit of the rate.</summary>
    /// <remarks>
    /// The variance of a rate grows with the square root of the noise's density, as the noise itself: at ratio k all but 1/k of it is
    /// added.
    /// </remarks>
    /// <param name="rateSigma">Sigmas of the rate as smoothed with the noise found.</param>
    /// <param name="ratio">The noise found.</param>
    public static double AddedToRate(double[] rateSigma, double ratio)
    {
        var known = Array.FindAll(rateSigma, double.IsFinite);
        if (known.Length == 0)
            return 0;
        Array.Sort(known);
        return known[known.Length / 2] * Math.Sqrt(1 - (1 / ratio));
    }

    /// <summary>
    /// How fast a column wanders beside its white noise, as the density of a random walk: unit per √s, no less than the usual.
    /// </summary>
    /// <param name="timeS">Times, seconds, strictly rising.</param>
    /// <param name="values">The column, NaN where nothing was measured.</param>
    /// <param name="white">Usual white noise, one standard deviation once a second, in the values' unit: where the search starts.</param>
    /// <param name="usual">Usual wander: where the search starts, and the least.</param>
    /// <param name="jerk">Spectral density of the driving jerk, unit/s³ per √Hz.</param>
    /// <param name="gapS">Time between samples beyond which nothing is carried over, seconds.</param>
    public static double Wander(double[] timeS, double[] values, double white, double usual, double jerk, double gapS)
    {
        var best = (White: white, Wander: usual, Cost: Cost(white, usual));
        while (true)
        {
            var (w, r, cost) = best;
            foreach (
                var (nextWhite, nextWander) in new[]
                {
                    (w, r * SensorModel.Step),
                    (w * SensorModel.Step, r),
                    (w / SensorModel.Step, r),
                    (w, Math.Max(usual, r / SensorModel.Step)),
                }
            )
            {
                if (
                    nextWhite < white / 4
                    || nextWhite > white * SensorModel.Most
                    || nextWander > usual * SensorModel.Most
                    || (nextWhite, nextWander) == (w, r)
                )
                    continue;
                if (Cost(nextWhite, nextWander) is var next && next < best.Cost)
                    best = (nextWhite, nextWander, next);
            }

            if (best.Cost >= cost)
                return r;
        }

        double Cost(double sigma, double wander) => InnovationCost(timeS, values, sigma, wander, jerk, gapS);
    }

    /// <summary>What wander beyond the usual adds to a smoothed rate, one standard deviation in the rate's unit.</summary>
    /// <remarks>
    /// The smoother passes 1/(1 + (ωτ)⁶) with τ = (sigma/jerk)^⅓. The rate of a random walk is white, so that of its density squared
    /// ∫ (1 + x⁶)⁻² dx / 2πτ = 0.278/τ comes through.
    /// </remarks>
    /// <param name="wander">Wander found.</param>
    /// <param name="usual">Usual wander.</param>
    /// <param name="sigma">Noise that was smoothed with.</param>
    /// <param name="jerk">Jerk that was smoothed with.</param>
    public static double AddedByWander(double wander, double usual, double sigma, double jerk) =>
        Math.Sqrt(((wander * wander) - (usual * usual)) * 0.278 / Math.Cbrt(sigma / jerk));

    /// <summary>Twice the negative logarithm of the likelihood of what each sample is off from what those before it foretold.</summary>
    private static double InnovationCost(double[] timeS, double[] values, double sigma, double wander, double jerk, double gapS)
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
            state = state with { Pvv = state.Pvv + (wander * wander * spacingS) };
            var noise = Smoother.Variance(sigma, spacingS);
            var (variance, surprise) = (state.Pvv + noise, values[i] - state.Value);
            cost +=
                Math.Log(variance) + ((SensorModel.Freedom + 1) * Math.Log(1 + (surprise * surprise / (SensorModel.Freedom * variance))));
            state = Smoother.Update(state, values[i], noise);
        }

        return cost;
    }
}
