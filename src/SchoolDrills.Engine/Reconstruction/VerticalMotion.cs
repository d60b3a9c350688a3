using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>Altitude from the best source that a recording has, smoothed, with its rate.</summary>
public sealed class VerticalMotion
{
    /// <summary>Samples on the ground that say enough about the altimeter's setting.</summary>
    private const int FewestOnGround = 10;

    private VerticalMotion(
        AltitudeSource source,
        SmoothColumn altitudeFt,
        double altitudeSigmaFt,
        double verticalSpeedSigmaFpm,
        double[] pressureAltitudeFt
    )
    {
        Source = source;
        AltitudeFt = altitudeFt.Value;
        VerticalSpeedFpm = Array.ConvertAll(altitudeFt.Rate, perS => perS * 60);
        AltitudeSigmaFt = altitudeSigmaFt;
        VerticalSpeedSigmaFpm = verticalSpeedSigmaFpm;
        PressureAltitudeFt = pressureAltitudeFt;
    }

    /// <summary>Where it comes from.</summary>
    public AltitudeSource Source { get; }

    /// <summary>Altitude, feet.</summary>
    public double[] AltitudeFt { get; }

    /// <summary>Vertical speed, feet per minute.</summary>
    public double[] VerticalSpeedFpm { get; }

    /// <summary>One standard deviation of altitude, feet, an unknown constant not counted.</summary>
    public double AltitudeSigmaFt { get; }

    /// <summary>One standard deviation of vertical speed, feet per minute.</summary>
    public double VerticalSpeedSigmaFpm { get; }

    /// <summary>Pressure altitude as well as it is known, feet, for airspeed corrections.</summary>
    private double[] PressureAltitudeFt { get; }

    /// <summary>
    /// Takes indicated altitude; else pressure altitude with its recorded or told setting; else pressure altitude; else satellite
    /// altitude.
    /// </summary>
    /// <param name="track">Recording in order.</param>
    /// <param name="known">What was told about the day.</param>
    public static VerticalMotion From(CleanTrack track, KnownConditions known)
    {
        var indicated = track.Column(track.Source.IndicatedAltitudeFt);
        var pressure = track.Column(track.Source.PressureAltitudeFt);
        var setting = track.Column(track.Source.AltimeterSettingHpa);
        var gps = track.Column(track.Source.GpsAltitudeFt) ?? Array.ConvertAll(track.TimeS, _ => double.NaN);
        if (indicated is null && pressure is not null && (setting is not null || known.QnhHpa is not null))
        {
            indicated = [.. pressure.Select((p, i) => Atmosphere.IndicatedAltitudeFt(p, setting?[i] ?? known.QnhHpa!.Value))];
        }

        if (indicated is not null)
        {
            var pressureOrIndicated =
                pressure
                ?? Array.ConvertAll(
                    indicated,
                    a => Atmosphere.PressureAltitudeFromIndicatedFt(a, known.QnhHpa ?? Atmosphere.StandardPressureHpa)
                );
            return new VerticalMotion(
                AltitudeSource.Indicated,
                Smoother.Smooth(track.TimeS, indicated, 3, 3, track.GapS),
                4,
                36,
                pressureOrIndicated
            );
        }

        if (pressure is not null)
        {
            // Flight recorders write whole metres, unsteadily: smooth a little longer than a panel's altitude.
            var shiftFt = track.Source.GpsAltitudeIsEllipsoidal ? 0 : TowardAltimeterFt(track, pressure, gps);
            return new VerticalMotion(
                AltitudeSource.Pressure,
                Smoother.Smooth(track.TimeS, Array.ConvertAll(pressure, p => p + shiftFt), 4, 1.5, track.GapS),
                5,
                52,
                pressure
            );
        }

        // Satellite height wanders by metres within a minute: smooth longer, or the wander reads as climb and descent.
        var noise = RecordingNoise.Ratio(track.TimeS, [gps], SensorModel.GpsFt, SensorModel.GpsFtPerS3, track.GapS);
        var smooth = Smoother.Smooth(track.TimeS, gps, SensorModel.GpsFt * noise, SensorModel.GpsFtPerS3, track.GapS);
        var noiseFpm = 60 * RecordingNoise.AddedToRate(smooth.RateSigma, noise);
        var wander = RecordingNoise.Wander(
            track.TimeS,
            gps,
            SensorModel.GpsWhiteFt,
            SensorModel.GpsWanderFtPerRootS,
            SensorModel.GpsFtPerS3,
            track.GapS
        );
        var wanderFpm =
            60 * RecordingNoise.AddedByWander(wander, SensorModel.GpsWanderFtPerRootS, SensorModel.GpsFt * noise, SensorModel.GpsFtPerS3);
        return new VerticalMotion(
            AltitudeSource.Gps,
            smooth,
            14,
            Math.Sqrt((80 * 80) + (noiseFpm * noiseFpm) + (wanderFpm * wanderFpm)),
            smooth.Value
        );
    }

    /// <summary>Indicated from true airspeed at a sample, in the standard atmosphere or at the told temperature.</summary>
    /// <param name="i">Sample.</param>
    /// <param name="trueAirspeedKt">True airspeed, knots.</param>
    /// <param name="known">What was told about the day.</param>
    public double IndicatedFromTrueKt(int i, double trueAirspeedKt, KnownConditions known)
    {
        var (pressureAltitudeFt, temperatureC) = AirAt(i, known);
        return Airspeed.CalibratedFromTrueKt(trueAirspeedKt, pressureAltitudeFt, temperatureC);
    }

    /// <summary>True from indicated airspeed at a sample, in the standard atmosphere or at the told temperature.</summary>
    /// <param name="i">Sample.</param>
    /// <param name="airspeedKt">Indicated airspeed, knots.</param>
    /// <param name="known">What was told about the day.</param>
    public double TrueFromIndicatedKt(int i, double airspeedKt, KnownConditions known)
    {
        var (pressureAltitudeFt, temperatureC) = AirAt(i, known);
        return Airspeed.TrueFromCalibratedKt(airspeedKt, pressureAltitudeFt, temperatureC);
    }

    private (double PressureAltitudeFt, double TemperatureC) AirAt(int i, KnownConditions known)
    {
        var pressureAltitudeFt = double.IsFinite(PressureAltitudeFt[i]) ? Math.Clamp(PressureAltitudeFt[i], -2_000, 60_000) : 0;
        return (pressureAltitudeFt, known.OutsideAirTemperatureC ?? Atmosphere.TemperatureC(pressureAltitudeFt));
    }

    /// <summary>
    /// Satellite less pressure altitude, feet: near what the setting does to the altimeter. On the ground an altimeter that is set shows
    /// the field's elevation, which is satellite altitude there; in the air the two part by the day's temperature, so that a recording
    /// that starts in flight gives the setting less well.
    /// </summary>
    private static double TowardAltimeterFt(CleanTrack track, double[] pressureFt, double[] gpsFt)
    {
        var differences = new List<double>();
        var onGround = new List<double>();
        for (var i = 1; i < track.Count; i++)
        {
            var differenceFt = gpsFt[i] - pressureFt[i];
            if (!double.IsFinite(differenceFt))
                continue;
            differences.Add(differenceFt);
            var stepM = Math.Sqrt(Math.Pow(track.EastM[i] - track.EastM[i - 1], 2) + Math.Pow(track.NorthM[i] - track.NorthM[i - 1], 2));
            if (Units.MpsToKt(stepM / (track.TimeS[i] - track.TimeS[i - 1])) < SensorModel.GroundKt)
                onGround.Add(differenceFt);
        }

        var chosen = onGround.Count >= FewestOnGround ? onGround : differences;
        if (chosen.Count == 0)
            return 0;
        chosen.Sort();
        return chosen[chosen.Count / 2];
    }
}
