namespace SchoolDrills.Engine.Flight;

/// <summary>
/// Calibrated and true airspeed through the impact pressure, compressible. Indicated airspeed differs from calibrated by the type's
/// position error, which is in its handbook. A speed that is missing or beyond that of sound, where the relations end, gives NaN. Source:
/// the isentropic relations p_t/p = (1 + 0.2 M²)^3.5 of any text on the aerodynamics of flight; constants of ICAO Doc 7488/3.
/// </summary>
public static class Airspeed
{
    private static readonly double SeaLevelSoundKt = Atmosphere.SpeedOfSoundKt(15);

    /// <summary>True airspeed, knots, signed as the calibrated one.</summary>
    /// <param name="calibratedKt">Calibrated airspeed, knots.</param>
    /// <param name="pressureAltitudeFt">Pressure altitude, feet.</param>
    /// <param name="temperatureC">Air temperature, Celsius.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside the standard atmosphere's layers, or no temperature of air.</exception>
    public static double TrueFromCalibratedKt(double calibratedKt, double pressureAltitudeFt, double temperatureC)
    {
        var impactRatio =
            ImpactRatio(calibratedKt / SeaLevelSoundKt) * Atmosphere.StandardPressureHpa / Atmosphere.PressureHpa(pressureAltitudeFt);
        return Atmosphere.SpeedOfSoundKt(temperatureC) * Math.CopySign(Mach(impactRatio), calibratedKt);
    }

    /// <summary>Calibrated airspeed, knots, signed as the true one.</summary>
    /// <param name="trueKt">True airspeed, knots.</param>
    /// <param name="pressureAltitudeFt">Pressure altitude, feet.</param>
    /// <param name="temperatureC">Air temperature, Celsius.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside the standard atmosphere's layers, or no temperature of air.</exception>
    public static double CalibratedFromTrueKt(double trueKt, double pressureAltitudeFt, double temperatureC)
    {
        var impactRatio =
            ImpactRatio(trueKt / Atmosphere.SpeedOfSoundKt(temperatureC))
            * Atmosphere.PressureHpa(pressureAltitudeFt)
            / Atmosphere.StandardPressureHpa;
        return SeaLevelSoundKt * Math.CopySign(Mach(impactRatio), trueKt);
    }

    /// <summary>Impact over static pressure.</summary>
    private static double ImpactRatio(double mach) => Math.Pow(1 + (0.2 * Subsonic(mach) * mach), 3.5) - 1;

    private static double Mach(double impactRatio) => Subsonic(Math.Sqrt(5 * (Math.Pow(impactRatio + 1, 1 / 3.5) - 1)));

    private static double Subsonic(double mach) => Math.Abs(mach) <= 1 ? mach : double.NaN;
}
