using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>Altitude from the best source that a recording has, smoothed, with its rate.</summary>
public sealed class VerticalMotion
{
    /// <summary>Samples on the ground from which the altimeter setting is taken.</summary>
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

    /// <summary>One standard deviation of altitude, feet, without the unknown constant.</summary>
    public double AltitudeSigmaFt { get; }

    /// <summary>One standard deviation of vertical speed, feet per minute.</summary>
    public double VerticalSpeedSigmaFpm { get; }

    /// <summary>Best known pressure altitude, feet, for airspeed corrections.</summary>
    private double[] PressureAltitudeFt { get; }

    /// <summary>
    /// Takes indicated altitude; else pressure altitude with its recorded or known setting; else pressure altitude; else satellite
    /// altitude.
    /// </summary>
    /// <param name="track">Cleaned recording.</param>
    /// <param name="known">What is known about the day.</param>
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
                Smoother.Smooth(track.TimeS, indicated, SensorModel.AltimeterNoiseFt, SensorModel.AltimeterJerkFtPerS3, track.GapS),
                SensorModel.AltimeterSigmaFt,
                SensorModel.AltimeterSigmaFpm,
                pressureOrIndicated
            );
        }

        if (pressure is not null)
        {
            // Flight recorders write whole metres, unsteadily: smooth a little longer than a panel's altitude.
            var shiftFt = track.Source.GpsAltitudeIsEllipsoidal ? 0 : TowardAltimeterFt(track, pressure, gps);
            return new VerticalMotion(
                AltitudeSource.Pressure,
                Smoother.Smooth(
                    track.TimeS,
                    Array.ConvertAll(pressure, p => p + shiftFt),
                    SensorModel.PressureNoiseFt,
                    SensorModel.PressureJerkFtPerS3,
                    track.GapS
                ),
                SensorModel.PressureSigmaFt,
                SensorModel.PressureSigmaFpm,
                pressure
            );
        }

        // Satellite altitude drifts by metres within a minute: smooth longer, or the drift reads as climb and descent.
        var noise = RecordingNoise.Ratio(track.TimeS, [gps], SensorModel.GpsNoiseFt, SensorModel.GpsJerkFtPerS3, track.GapS);
        var smooth = Smoother.Smooth(track.TimeS, gps, SensorModel.GpsNoiseFt * noise, SensorModel.GpsJerkFtPerS3, track.GapS);
        var noiseFpm = 60 * RecordingNoise.AddedToRate(smooth.RateSigma, noise);
        var drift = RecordingNoise.Drift(
            track.TimeS,
            gps,
            SensorModel.GpsWhiteFt,
            SensorModel.GpsDriftFtPerRootS,
            SensorModel.GpsJerkFtPerS3,
            track.GapS
        );
        var driftFpm =
            60
            * RecordingNoise.AddedByDrift(
                drift,
                SensorModel.GpsDriftFtPerRootS,
                SensorModel.GpsNoiseFt * noise,
                SensorModel.GpsJerkFtPerS3
            );
        return new VerticalMotion(
            AltitudeSource.Gps,
            smooth,
            SensorModel.GpsSigmaFt,
            Math.Sqrt((SensorModel.GpsSigmaFpm * SensorModel.GpsSigmaFpm) + (noiseFpm * noiseFpm) + (driftFpm * driftFpm)),
            smooth.Value
        );
    }

    /// <summary>Indicated from true airspeed at a sample, in the standard atmosphere or at the known temperature.</summary>
    /// <param name="i">Sample.</param>
    /// <param name="trueAirspeedKt">True airspeed, knots.</param>
    /// <param name="known">What is known about the day.</param>
    public double IndicatedFromTrueKt(int i, double trueAirspeedKt, KnownConditions known)
    {
        var (pressureAltitudeFt, temperatureC) = AirAt(i, known);
        return Airspeed.CalibratedFromTrueKt(trueAirspeedKt, pressureAltitudeFt, temperatureC);
    }

    /// <summary>True from indicated airspeed at a sample, in the standard atmosphere or at the known temperature.</summary>
    /// <param name="i">Sample.</param>
    /// <param name="airspeedKt">Indicated airspeed, knots.</param>
    /// <param name="known">What is known about the day.</param>
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
    /// Satellite less pressure altitude, feet: about the correction that the altimeter setting makes. On the ground a set altimeter shows
    /// the field's elevation, which is the satellite altitude there. In the air the two differ by the day's temperature, so a recording
    /// that starts in flight gives a poorer correction.
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
            if (Units.MpsToKt(stepM / (track.TimeS[i] - track.TimeS[i - 1])) < SensorModel.TaxiKt)
                onGround.Add(differenceFt);
        }

        var chosen = onGround.Count >= FewestOnGround ? onGround : differences;
        if (chosen.Count == 0)
            return 0;
        chosen.Sort();
        return chosen[chosen.Count / 2];
    }
}
