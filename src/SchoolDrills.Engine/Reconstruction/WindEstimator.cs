using MathNet.Numerics.LinearAlgebra;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// Finds the wind from what a recording has. In a turn at steady airspeed the tips of the ground velocity lie on a circle whose
/// centre is the wind and whose radius is the true airspeed; here the centre may move evenly with height and the radius may wander
/// slowly, since pilots change airspeed and true airspeed grows with height at constant indicated airspeed.
/// </summary>
public static class WindEstimator
{
    /// <summary>Spacing of the airspeed's knots, seconds.</summary>
    private const double KnotS = 20;

    /// <summary>How far airspeed may usually change from knot to knot, knots.</summary>
    private const double AirspeedStepKt = 2;

    /// <summary>Scatter of one residual, knots, and the time over which residuals hang together, seconds.</summary>
    private const double ResidualKt = 1.5, CorrelationS = 8;

    /// <summary>What is believed of wind and its change with height before looking, knots and knots per 1,000 ft.</summary>
    private const double PriorWindKt = 25, PriorShearKt = 3.5;

    /// <summary>Wind from the ground velocities of turns between two times.</summary>
    /// <param name="motion">Smoothed motion.</param>
    /// <param name="fromS">Start, seconds.</param>
    /// <param name="toS">End, seconds.</param>
    /// <returns>The wind with its sigma, which is large where the turns do not show it.</returns>
    public static WindField FromTurns(GroundMotion motion, double fromS, double toS)
    {
        var samples = FlyingSamples(motion, fromS, toS);
        if (samples.Length < 30) return WindField.Unknown;

        var referenceFt = samples.Average(i => motion.AltitudeFt[i]);
        var knots = Math.Max(2, (int)Math.Ceiling((toS - fromS) / KnotS) + 1);
        var unknowns = 4 + knots;
        var solution = Vector<double>.Build.Dense(unknowns);
        for (var k = 0; k < knots; k++) solution[4 + k] = samples.Average(i => motion.GroundSpeedKt(i));

        Matrix<double> normal = null!;
        for (var round = 0; round < 12; round++)
        {
            normal = Matrix<double>.Build.Dense(unknowns, unknowns);
            var right = Vector<double>.Build.Dense(unknowns);
            AddPriors(normal, right, solution, knots);
            foreach (var i in samples) AddSample(normal, right, solution, motion, i, fromS, referenceFt, knots);
            var step = normal.Cholesky().Solve(right);
            solution += step;
            if (step.L2Norm() < 0.01) break;
        }

        var covariance = normal.Cholesky().Solve(Matrix<double>.Build.DenseIdentity(unknowns));
        var sigmaKt = Math.Sqrt(Math.Max(covariance[0, 0], covariance[1, 1]));
        return new WindField(solution[0], solution[1], solution[2], solution[3], referenceFt, sigmaKt, WindSource.Turns);
    }

    /// <summary>Wind from recorded heading and airspeed between two times, with its change with height where the flight shows it.</summary>
    /// <param name="motion">Smoothed motion.</param>
    /// <param name="headingTrueDeg">True heading, degrees.</param>
    /// <param name="trueAirspeedKt">True airspeed, knots.</param>
    /// <param name="fromS">Start, seconds.</param>
    /// <param name="toS">End, seconds.</param>
    public static WindField FromAirData(GroundMotion motion, double[] headingTrueDeg, double[] trueAirspeedKt, double fromS, double toS)
    {
        var samples = Array.FindAll(FlyingSamples(motion, fromS, toS), i => double.IsFinite(headingTrueDeg[i]) && trueAirspeedKt[i] > 30);
        if (samples.Length < 30) return WindField.Unknown;

        var referenceFt = samples.Average(i => motion.AltitudeFt[i]);
        var east = Array.ConvertAll(samples, i => motion.EastKt[i] - (trueAirspeedKt[i] * Math.Sin(headingTrueDeg[i] * Math.PI / 180)));
        var north = Array.ConvertAll(samples, i => motion.NorthKt[i] - (trueAirspeedKt[i] * Math.Cos(headingTrueDeg[i] * Math.PI / 180)));
        var kft = Array.ConvertAll(samples, i => (motion.AltitudeFt[i] - referenceFt) / 1000);
        var (e0, e1) = RobustLine(kft, east);
        var (n0, n1) = RobustLine(kft, north);
        return new WindField(e0, n0, e1, n1, referenceFt, 1.0, WindSource.AirData);
    }

    private static int[] FlyingSamples(GroundMotion motion, double fromS, double toS) =>
        [.. Enumerable.Range(0, motion.TimeS.Length).Where(i =>
            motion.TimeS[i] >= fromS && motion.TimeS[i] <= toS && motion.GroundSpeedKt(i) > 35 && double.IsFinite(motion.AltitudeFt[i]))];

    private static void AddPriors(Matrix<double> normal, Vector<double> right, Vector<double> solution, int knots)
    {
        for (var k = 0; k < 4; k++)
        {
            var weight = 1 / Math.Pow(k < 2 ? PriorWindKt : PriorShearKt, 2);
            normal[k, k] += weight;
            right[k] -= weight * solution[k];
        }

        for (var k = 4; k < 4 + knots; k++)
        {
            normal[k, k] += 1e-6;
            if (k == 4) continue;
            var step = solution[k] - solution[k - 1];
            // Airspeed is mostly held, and now and then let go: large steps are rarer than a bell curve has them but not impossible.
            var stepWeight = Math.Min(1, AirspeedStepKt / Math.Max(Math.Abs(step), 1e-9)) / (AirspeedStepKt * AirspeedStepKt);
            normal[k, k] += stepWeight;
            normal[k - 1, k - 1] += stepWeight;
            normal[k, k - 1] -= stepWeight;
            normal[k - 1, k] -= stepWeight;
            right[k] -= stepWeight * step;
            right[k - 1] += stepWeight * step;
        }
    }

    private static void AddSample(
        Matrix<double> normal, Vector<double> right, Vector<double> solution, GroundMotion motion, int i, double fromS, double referenceFt, int knots)
    {
        var kft = (motion.AltitudeFt[i] - referenceFt) / 1000;
        var airEast = motion.EastKt[i] - solution[0] - (solution[2] * kft);
        var airNorth = motion.NorthKt[i] - solution[1] - (solution[3] * kft);
        var airspeed = Math.Max(1, Math.Sqrt((airEast * airEast) + (airNorth * airNorth)));
        var place = Math.Clamp((motion.TimeS[i] - fromS) / KnotS, 0, knots - 1.000001);
        var knot = 4 + (int)place;
        var share = place - (int)place;
        // At constant indicated airspeed true airspeed grows about 1.5 % each 1,000 ft (ratio of densities, standard atmosphere).
        var growth = 1 + (0.0151 * kft);
        var residual = airspeed - (growth * (((1 - share) * solution[knot]) + (share * solution[knot + 1])));

        var dt = i > 0 ? Math.Min(motion.TimeS[i] - motion.TimeS[i - 1], CorrelationS) : 1;
        var huber = Math.Min(1, 2 * ResidualKt / Math.Max(Math.Abs(residual), 1e-9));
        var weight = huber * dt / CorrelationS / (ResidualKt * ResidualKt);

        Span<(int At, double Slope)> row =
        [
            (0, -airEast / airspeed), (1, -airNorth / airspeed), (2, -airEast / airspeed * kft), (3, -airNorth / airspeed * kft),
            (knot, -growth * (1 - share)), (knot + 1, -growth * share),
        ];
        foreach (var (a, slopeA) in row)
        {
            right[a] -= weight * slopeA * residual;
            foreach (var (b, slopeB) in row) normal[a, b] += weight * slopeA * slopeB;
        }
    }

    /// <summary>Straight line by least squares with Huber weights; flat where the abscissa does not vary.</summary>
    private static (double Offset, double Slope) RobustLine(double[] x, double[] y)
    {
        double offset = 0, slope = 0;
        for (var round = 0; round < 6; round++)
        {
            double w = 0, wx = 0, wy = 0, wxx = 1e-3 * x.Length, wxy = 0;
            for (var i = 0; i < x.Length; i++)
            {
                var weight = round == 0 ? 1 : Math.Min(1, 3 / Math.Max(1e-9, Math.Abs(y[i] - offset - (slope * x[i]))));
                w += weight;
                wx += weight * x[i];
                wy += weight * y[i];
                wxx += weight * x[i] * x[i];
                wxy += weight * x[i] * y[i];
            }

            var determinant = (w * wxx) - (wx * wx);
            slope = determinant > 1e-9 ? ((w * wxy) - (wx * wy)) / determinant : 0;
            offset = (wy - (slope * wx)) / w;
        }

        return (offset, slope);
    }
}
