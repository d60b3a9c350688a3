using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>Turns a clean recording into what the pilot flew: altitude, heading, rates, airspeed and wind, with their sigmas.</summary>
public static class Reconstructor
{
    /// <summary>Reconstructs a whole recording; the wind may change along it.</summary>
    /// <param name="track">Cleaned recording.</param>
    /// <param name="known">What is known about the day.</param>
    public static FlightState Reconstruct(CleanTrack track, KnownConditions known)
    {
        var vertical = VerticalMotion.From(track, known);
        var motion = Motion(track, vertical, known);
        var declinationDeg = Declination(track);
        var recorded = RecordedAir.From(track, vertical, known, declinationDeg);
        var sources = new Sources(track, vertical, motion, recorded, declinationDeg, known);
        if (recorded.HeadingTrueDeg is { } heading && recorded.TrueAirspeedKt is { } airspeed)
        {
            var wind = WindEstimator.FromAirData(motion, heading, airspeed, track.TimeS[0], track.TimeS[^1]);
            return State(sources, _ => wind, wind, track.TimeS[0], track.TimeS[^1]);
        }

        var winds = new WindOverTime(motion, OneSidedAir.Of(motion, track, recorded));
        var fields = winds.Fields(known);
        return State(
            sources with
            {
                WindOverTime = winds,
            },
            i => WindOverTime.At(fields, track.TimeS[i]),
            WindOverTime.At(fields, track.TimeS[track.Count / 2]),
            track.TimeS[0],
            track.TimeS[^1]
        );
    }

    /// <summary>The same flight with the wind solved again from the part in which the drill was flown.</summary>
    /// <param name="state">State of the whole recording.</param>
    /// <param name="known">What is known about the day.</param>
    /// <param name="fromS">Start of the part, seconds.</param>
    /// <param name="toS">End of the part, seconds.</param>
    /// <param name="planned">What the pilot planned to hold there, where that is known.</param>
    public static FlightState Refine(FlightState state, KnownConditions known, double fromS, double toS, PlannedFlight? planned = null)
    {
        var track = state.Track;
        var vertical = VerticalMotion.From(track, known);
        var recorded = RecordedAir.From(track, vertical, known, state.DeclinationDeg);
        WindField wind;
        if (recorded.HeadingTrueDeg is { } heading && recorded.TrueAirspeedKt is { } airspeed)
        {
            wind = WindEstimator.FromAirData(state.Motion, heading, airspeed, fromS, toS);
        }
        else
        {
            var around = state.WindOverTime ?? new WindOverTime(state.Motion, OneSidedAir.Of(state.Motion, track, recorded));
            var solved = WindEstimator.FromTurns(state.Motion, fromS, toS, planned, around);
            wind = WindOverTime.Better(solved, known);
        }

        return State(new Sources(track, vertical, state.Motion, recorded, state.DeclinationDeg, known), _ => wind, wind, fromS, toS);
    }

    private static GroundMotion Motion(CleanTrack track, VerticalMotion vertical, KnownConditions known)
    {
        var noise = RecordingNoise.Ratio(
            track.TimeS,
            [track.EastM, track.NorthM],
            SensorModel.PositionSigmaM,
            SensorModel.PositionJerkMPerS3,
            track.GapS
        );
        var east = Smoother.Smooth(
            track.TimeS,
            track.EastM,
            SensorModel.PositionSigmaM * noise,
            SensorModel.PositionJerkMPerS3,
            track.GapS
        );
        var north = Smoother.Smooth(
            track.TimeS,
            track.NorthM,
            SensorModel.PositionSigmaM * noise,
            SensorModel.PositionJerkMPerS3,
            track.GapS
        );
        var motion = new GroundMotion(
            track.TimeS,
            Array.ConvertAll(east.Rate, Units.MpsToKt),
            Array.ConvertAll(north.Rate, Units.MpsToKt),
            Array.ConvertAll(east.Acceleration, Units.MpsToKt),
            Array.ConvertAll(north.Acceleration, Units.MpsToKt),
            noise,
            Units.MpsToKt(RecordingNoise.AddedToRate(east.RateSigma, noise)),
            vertical.AltitudeFt,
            [
                .. track.TimeS.Select(
                    (_, i) => vertical.TrueFromIndicatedKt(i, SensorModel.UsualAirspeedKt, known) / SensorModel.UsualAirspeedKt
                ),
            ]
        );
        TurnToMeridians(track, motion);
        return motion;
    }

    /// <summary>
    /// The plane's north is that of its origin; elsewhere velocities are rotated to the local meridian.
    /// </summary>
    private static void TurnToMeridians(CleanTrack track, GroundMotion motion)
    {
        var sinLat = Math.Sin(Units.DegToRad(track.Frame.LatDeg));
        for (var i = 0; i < track.Count; i++)
        {
            var (sin, cos) = Math.SinCos(
                Units.DegToRad(Angles.DifferenceDeg(track.Source.LonDeg[track.Kept[i]], track.Frame.LonDeg)) * sinLat
            );
            (motion.EastKt[i], motion.NorthKt[i]) = Turned(motion.EastKt[i], motion.NorthKt[i]);
            (motion.EastKtPerS[i], motion.NorthKtPerS[i]) = Turned(motion.EastKtPerS[i], motion.NorthKtPerS[i]);

            (double East, double North) Turned(double east, double north) => ((east * cos) + (north * sin), (north * cos) - (east * sin));
        }
    }

    /// <summary>By the magnetic models, and outside their years as recorded; NaN where neither tells.</summary>
    private static double Declination(CleanTrack track)
    {
        var middle = track.Kept[track.Count / 2];
        var date = track.Source.EpochUtc.AddSeconds(track.TimeS[track.Count / 2]);
        return MagneticModel.DeclinationDeg(track.Source.LatDeg[middle], track.Source.LonDeg[middle], 1.0, date)
            ?? TrackCleaner.Median((track.Column(track.Source.MagneticVariationDeg) ?? []).Where(double.IsFinite));
    }

    /// <summary>What a state is made from, besides the wind.</summary>
    private sealed record Sources(
        CleanTrack Track,
        VerticalMotion Vertical,
        GroundMotion Motion,
        RecordedAir Recorded,
        double DeclinationDeg,
        KnownConditions Known
    )
    {
        public WindOverTime? WindOverTime { get; init; }
    }

    private static FlightState State(Sources sources, Func<int, WindField> windAt, WindField wind, double partFromS, double partToS)
    {
        var (track, vertical, motion, recorded, declinationDeg, known) = sources;
        var n = track.Count;
        var headingMagDeg = new double[n];
        var turnRateDegPerS = new double[n];
        var airspeedKt = new double[n];
        var trueAirspeedKt = new double[n];
        var bankDeg = new double[n];
        var haveWind = wind.Source != WindSource.None;
        var toMagneticDeg = double.IsFinite(declinationDeg) ? declinationDeg : 0;
        for (var i = 0; i < n; i++)
        {
            var (windEast, windNorth) = haveWind ? windAt(i).At(motion.AltitudeFt[i]) : (0, 0);
            double east = motion.EastKt[i] - windEast,
                north = motion.NorthKt[i] - windNorth;
            var speed = Math.Sqrt((east * east) + (north * north));
            trueAirspeedKt[i] = recorded.TrueAirspeedKt?[i] ?? speed;
            airspeedKt[i] = recorded.AirspeedKt?[i] ?? (haveWind ? vertical.IndicatedFromTrueKt(i, speed, known) : double.NaN);
            turnRateDegPerS[i] =
                recorded.TurnRateDegPerS?[i]
                ?? (speed > 20 ? ((north * motion.EastKtPerS[i]) - (east * motion.NorthKtPerS[i])) / (speed * speed) * 180 / Math.PI : 0);
            bankDeg[i] =
                recorded.BankDeg?[i]
                ?? Math.Atan(Units.KtToMps(trueAirspeedKt[i]) * turnRateDegPerS[i] * Math.PI / 180 / Units.StandardGravityMps2)
                    * 180
                    / Math.PI;
            headingMagDeg[i] =
                recorded.HeadingMagDeg?[i]
                ?? Angles.NormalizeDeg(
                    (Math.Atan2(east, north) * 180 / Math.PI)
                        + (SensorModel.AngleOfAttackDeg * Math.Sin(Units.DegToRad(bankDeg[i])))
                        - toMagneticDeg
                );
        }

        var (airSigmaKt, acrossSigmaDeg) = AirSigma(motion, windAt, trueAirspeedKt, partFromS, partToS);
        return new FlightState
        {
            Track = track,
            Motion = motion,
            InAir = Airborne.Of(motion, recorded.TrueAirspeedKt),
            AltitudeFt = vertical.AltitudeFt,
            AltitudeSigmaFt = vertical.AltitudeSigmaFt,
            VerticalSpeedFpm = vertical.VerticalSpeedFpm,
            VerticalSpeedSigmaFpm = vertical.VerticalSpeedSigmaFpm,
            HeadingMagDeg = TurnedInGaps(track, recorded.HeadingMagDeg ?? Angles.UnwrapDeg(headingMagDeg), turnRateDegPerS),
            HeadingSigmaDeg =
                recorded.HeadingMagDeg is not null ? SensorModel.RecordedHeadingSigmaDeg
                : haveWind ? Hypotenuse(SensorModel.DerivedHeadingSigmaDeg, acrossSigmaDeg)
                : SensorModel.GroundTrackSigmaDeg,
            TurnRateDegPerS = turnRateDegPerS,
            TurnRateSigmaDegPerS = recorded.HeadingMagDeg is not null
                ? SensorModel.RecordedTurnRateSigmaDegPerS
                : SensorModel.DerivedTurnRateSigmaDegPerS * Math.Pow(motion.NoiseRatio, 1.0 / 6),
            AirspeedKt = airspeedKt,
            AirspeedSigmaKt =
                recorded.AirspeedKt is not null ? SensorModel.RecordedAirspeedSigmaKt
                : haveWind ? Hypotenuse(SensorModel.DerivedAirspeedSigmaKt, airSigmaKt)
                : double.PositiveInfinity,
            TrueAirspeedKt = trueAirspeedKt,
            BankDeg = bankDeg,
            Wind = wind,
            WindOverTime = sources.WindOverTime,
            DeclinationDeg = declinationDeg,
            HeadingSource =
                recorded.HeadingMagDeg is not null ? HeadingSource.Recorded
                : haveWind ? HeadingSource.WindCorrected
                : HeadingSource.GroundTrack,
            AltitudeSource = vertical.Source,
            AirspeedSource =
                recorded.AirspeedKt is not null ? AirspeedSource.Recorded
                : haveWind ? AirspeedSource.Derived
                : AirspeedSource.None,
        };
    }

    /// <summary>
    /// Sigma of the air's velocity over a part, root mean square over the times and heights flown: per axis, knots, and across the heading,
    /// degrees.
    /// </summary>
    private static (double AirKt, double AcrossDeg) AirSigma(
        GroundMotion motion,
        Func<int, WindField> windAt,
        double[] trueAirspeedKt,
        double fromS,
        double toS
    )
    {
        double squaresKt = 0,
            squaresRad = 0;
        // A part beside the recording has the sigma of its nearest sample.
        var first = Math.Min(motion.FirstFrom(fromS), motion.TimeS.Length - 1);
        var count = 0;
        for (var i = first; count == 0 || i < motion.TimeS.Length && motion.TimeS[i] <= toS; i++, count++)
        {
            var sigmaKt = Hypotenuse(windAt(i).SigmaKtAt(motion.AltitudeFt[i]), motion.AddedSigmaKt);
            squaresKt += sigmaKt * sigmaKt;
            squaresRad += Math.Pow(sigmaKt / Math.Max(SensorModel.FlyingKt, trueAirspeedKt[i]), 2);
        }

        return (Math.Sqrt(squaresKt / count), Units.RadToDeg(Math.Sqrt(squaresRad / count)));
    }

    /// <summary>
    /// Adds the full turns that the turn rates on both sides of a short gap make likely: in 20 s of a steep turn the aeroplane turns more
    /// than half a circle.
    /// </summary>
    private static double[] TurnedInGaps(CleanTrack track, double[] headingDeg, double[] turnRateDegPerS)
    {
        var likely = new double[headingDeg.Length];
        foreach (var k in track.GapsAfter)
        {
            var gapS = track.TimeS[k + 1] - track.TimeS[k];
            if (gapS > SensorModel.BridgedGapS)
                continue;
            var turnedDeg = gapS * (turnRateDegPerS[k] + turnRateDegPerS[k + 1]) / 2;
            likely[k + 1] = Math.Round((turnedDeg - (headingDeg[k + 1] - headingDeg[k])) / 360) * 360;
        }

        double sumDeg = 0;
        return [.. headingDeg.Select((h, i) => h + (sumDeg += double.IsFinite(likely[i]) ? likely[i] : 0))];
    }

    private static double Hypotenuse(double a, double b) => Math.Sqrt((a * a) + (b * b));
}
