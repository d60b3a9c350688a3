namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// Finds the wind from what a recording has: ground velocities in turns, the planned airspeeds and headings and a recorded airspeed or
/// heading (<see cref="WindFit"/>), or ground velocity less the recorded heading and airspeed.
/// </summary>
public static class WindEstimator
{
    /// <summary>Wind from the ground velocities of turns between two times.</summary>
    /// <param name="motion">Smoothed motion.</param>
    /// <param name="fromS">Start, seconds.</param>
    /// <param name="toS">End, seconds.</param>
    /// <param name="planned">What the pilot planned to hold, where that is known.</param>
    /// <returns>The wind with its sigma, which is large where the turns do not show the wind.</returns>
    public static WindField FromTurns(GroundMotion motion, double fromS, double toS, PlannedFlight? planned = null) =>
        FromTurns(motion, fromS, toS, planned, around: null);

    /// <summary>The same with what the rest of the recording shows.</summary>
    internal static WindField FromTurns(GroundMotion motion, double fromS, double toS, PlannedFlight? planned, WindOverTime? around)
    {
        var blocks = around is null
            ? AirBlocks.Cut(motion, fromS, toS, planned?.AirspeedKtAt, OneSidedAir.None)
            : around.Blocks(fromS, toS, planned?.AirspeedKtAt);
        if (blocks.All.Count < WindModel.FewestBlocks)
            return WindField.Unknown;
        var prior = WindInformation
            .Prior(blocks.ReferenceAltitudeFt)
            .Plus(around?.Around(fromS, toS, blocks.ShownS) ?? WindInformation.None);
        var recordsHeading = blocks.Evidence == AirEvidence.RecordedHeading;
        var shown = blocks.MaySolve(prior)
            ? WindFit.Solve(blocks, Straights(motion, recordsHeading ? null : planned, blocks.ReferenceAltitudeFt), prior)
            : WindInformation.None;
        // A walk is off its mean by a sixth of its length at the mean square.
        return prior.Plus(shown).Field(WindModel.WalkedSquareKt(blocks.LengthS / 6));
    }

    private static List<WindFit.Straight> Straights(GroundMotion motion, PlannedFlight? planned, double referenceFt)
    {
        var straights = new List<WindFit.Straight>();
        foreach (var straight in planned?.Straights ?? [])
        {
            var samples = Array.FindAll(
                FlyingSamples(motion, straight.FromS + WindModel.SettleS, straight.ToS - WindModel.LeaveS),
                i => Math.Abs(motion.TrackRateDegPerS(i)) < WindModel.StraightDegPerS
            );
            if (samples.Length == 0 || motion.TimeS[samples[^1]] - motion.TimeS[samples[0]] < WindModel.SettleS)
                continue;
            straights.Add(
                new WindFit.Straight(
                    samples.Average(i => motion.EastKt[i]),
                    samples.Average(i => motion.NorthKt[i]),
                    (samples.Average(i => motion.AltitudeFt[i]) - referenceFt) / 1000,
                    straight.HeadingDeg * Math.PI / 180
                )
            );
        }

        return straights;
    }

    /// <summary>Wind from recorded heading and airspeed between two times, with its change with height where the flight shows it.</summary>
    /// <param name="motion">Smoothed motion.</param>
    /// <param name="headingTrueDeg">True heading, degrees.</param>
    /// <param name="trueAirspeedKt">True airspeed, knots.</param>
    /// <param name="fromS">Start, seconds.</param>
    /// <param name="toS">End, seconds.</param>
    public static WindField FromAirData(GroundMotion motion, double[] headingTrueDeg, double[] trueAirspeedKt, double fromS, double toS)
    {
        var samples = Array.FindAll(
            FlyingSamples(motion, fromS, toS),
            i => double.IsFinite(headingTrueDeg[i]) && trueAirspeedKt[i] > SensorModel.TaxiKt
        );
        if (samples.Length < WindModel.FewestAirDataSamples)
            return WindField.Unknown;

        var referenceFt = samples.Average(i => motion.AltitudeFt[i]);
        var east = Array.ConvertAll(samples, i => motion.EastKt[i] - (trueAirspeedKt[i] * Math.Sin(headingTrueDeg[i] * Math.PI / 180)));
        var north = Array.ConvertAll(samples, i => motion.NorthKt[i] - (trueAirspeedKt[i] * Math.Cos(headingTrueDeg[i] * Math.PI / 180)));
        var kft = Array.ConvertAll(samples, i => (motion.AltitudeFt[i] - referenceFt) / 1000);
        var (e0, e1) = RobustLine(kft, east);
        var (n0, n1) = RobustLine(kft, north);
        return new WindField(e0, n0, e1, n1, referenceFt, WindModel.AirDataWindSigmaKt, WindSource.AirData);
    }

    private static int[] FlyingSamples(GroundMotion motion, double fromS, double toS)
    {
        var samples = new List<int>();
        for (var i = motion.FirstFrom(fromS); i < motion.TimeS.Length && motion.TimeS[i] <= toS; i++)
        {
            if (motion.GroundSpeedKt(i) > SensorModel.FlyingKt && double.IsFinite(motion.AltitudeFt[i]))
                samples.Add(i);
        }

        return [.. samples];
    }

    /// <summary>Straight line by least squares with Huber weights; flat where the abscissa does not vary.</summary>
    private static (double Offset, double Slope) RobustLine(double[] x, double[] y)
    {
        double offset = 0,
            slope = 0;
        for (var round = 0; round < 6; round++)
        {
            double w = 0,
                wx = 0,
                wy = 0,
                wxx = 1e-3 * x.Length,
                wxy = 0;
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
