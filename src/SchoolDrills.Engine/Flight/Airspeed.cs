namespace SchoolDrills.Engine.Flight;

/// <summary>
/// Calibrated and true airspeed of a subsonic aeroplane through the impact pressure, compressible. Indicated airspeed differs from
/// calibrated by the type's position error, which only its handbook knows. Source: the isentropic relations, as in any text on
/// aerodynamics of flight; constants of ICAO Doc 7488/3.
/// </summary>
public static class Airspeed
{
    private static readonly double SeaLevelSoundKt = Atmosphere.SpeedOfSoundKt(15);

    /// <summary>True airspeed, knots.</summary>
    /// <param name="calibratedKt">Calibrated airspeed, knots, subsonic.</param>
    /// <param name="pressureAltitudeFt">Pressure altitude, feet.</param>
    /// <param name="temperatureC">Air temperature, Celsius.</param>
    public static double TrueFromCalibratedKt(double calibratedKt, double pressureAltitudeFt, double temperatureC)
    {
        var impactRatio = ImpactRatio(calibratedKt / SeaLevelSoundKt) * Atmosphere.StandardPressureHpa / Atmosphere.PressureHpa(pressureAltitudeFt);
        return Atmosphere.SpeedOfSoundKt(temperatureC) * Mach(impactRatio);
    }

    /// <summary>Calibrated airspeed, knots.</summary>
    /// <param name="trueKt">True airspeed, knots, subsonic.</param>
    /// <param name="pressureAltitudeFt">Pressure altitude, feet.</param>
    /// <param name="temperatureC">Air temperature, Celsius.</param>
    public static double CalibratedFromTrueKt(double trueKt, double pressureAltitudeFt, double temperatureC)
    {
        var impactRatio = ImpactRatio(trueKt / Atmosphere.SpeedOfSoundKt(temperatureC)) * Atmosphere.PressureHpa(pressureAltitudeFt) / Atmosphere.StandardPressureHpa;
        return SeaLevelSoundKt * Mach(impactRatio);
    }

    /// <summary>Impact over static pressure.</summary>
    private static double ImpactRatio(double mach) => Math.Pow(1 + (0.2 * mach * mach), 3.5) - 1;

    private static double Mach(double impactRatio) => Math.Sqrt(5 * (Math.Pow(impactRatio + 1, 1 / 3.5) - 1));
}
