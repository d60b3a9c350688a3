namespace SchoolDrills.Engine.Flight;

/// <summary>
/// The international standard atmosphere from 5,000 m below sea level to 20,000 m: troposphere and lower stratosphere. Altitudes are
/// geopotential. Source: ICAO Doc 7488/3, its constants and equations.
/// </summary>
public static class Atmosphere
{
    /// <summary>Standard pressure at sea level, hPa.</summary>
    public const double StandardPressureHpa = 1013.25;

    /// <summary>Standard temperature at sea level, kelvin, and 0 °C, kelvin.</summary>
    private const double SeaLevelK = 288.15, ZeroCelsiusK = 273.15;

    /// <summary>Gas constant of air, J/(kg K); fall of temperature in the troposphere, K/m; ratio of specific heats.</summary>
    private const double GasConstant = 287.05287, LapseKPerM = 0.0065, HeatRatio = 1.4;

    /// <summary>Height of the tropopause, metres, and temperature above it, kelvin.</summary>
    private const double TropopauseM = 11_000, StratosphereK = 216.65;

    /// <summary>Range of the layers given here, metres.</summary>
    private const double LowestM = -5_000, HighestM = 20_000;

    /// <summary>Exponent of the troposphere's pressure, g/(R L) = 5.25588.</summary>
    private const double Exponent = Units.StandardGravityMps2 / (GasConstant * LapseKPerM);

    private static readonly double TropopauseHpa = StandardPressureHpa * Math.Pow(StratosphereK / SeaLevelK, Exponent);

    /// <summary>Standard temperature, Celsius.</summary>
    /// <param name="altitudeFt">Pressure altitude, feet.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside −5,000 to 20,000 m.</exception>
    public static double TemperatureC(double altitudeFt) => TemperatureK(altitudeFt) - ZeroCelsiusK;

    /// <summary>Standard pressure, hPa.</summary>
    /// <param name="altitudeFt">Pressure altitude, feet.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside −5,000 to 20,000 m.</exception>
    public static double PressureHpa(double altitudeFt)
    {
        var altitudeM = HeightM(altitudeFt);
        return altitudeM <= TropopauseM
            ? StandardPressureHpa * Math.Pow(TemperatureK(altitudeFt) / SeaLevelK, Exponent)
            : TropopauseHpa * Math.Exp(-Units.StandardGravityMps2 * (altitudeM - TropopauseM) / (GasConstant * StratosphereK));
    }

    /// <summary>Pressure altitude of a pressure, feet.</summary>
    /// <param name="pressureHpa">Pressure, hPa, positive.</param>
    public static double PressureAltitudeFt(double pressureHpa)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(pressureHpa);
        var altitudeM = pressureHpa >= TropopauseHpa
            ? SeaLevelK / LapseKPerM * (1 - Math.Pow(pressureHpa / StandardPressureHpa, 1 / Exponent))
            : TropopauseM - (GasConstant * StratosphereK / Units.StandardGravityMps2 * Math.Log(pressureHpa / TropopauseHpa));
        return Units.MToFt(altitudeM);
    }

    /// <summary>Density of dry air, kg/m³.</summary>
    /// <param name="altitudeFt">Pressure altitude, feet.</param>
    /// <param name="temperatureC">Air temperature, Celsius; standard when null.</param>
    public static double DensityKgPerM3(double altitudeFt, double? temperatureC = null) =>
        PressureHpa(altitudeFt) * 100 / (GasConstant * (temperatureC + ZeroCelsiusK ?? TemperatureK(altitudeFt)));

    /// <summary>Density over that at sea level in the standard atmosphere.</summary>
    /// <param name="altitudeFt">Pressure altitude, feet.</param>
    /// <param name="temperatureC">Air temperature, Celsius; standard when null.</param>
    public static double DensityRatio(double altitudeFt, double? temperatureC = null) => DensityKgPerM3(altitudeFt, temperatureC) / DensityKgPerM3(0);

    /// <summary>Speed of sound, knots.</summary>
    /// <param name="temperatureC">Air temperature, Celsius.</param>
    public static double SpeedOfSoundKt(double temperatureC) => Units.MpsToKt(Math.Sqrt(HeatRatio * GasConstant * (temperatureC + ZeroCelsiusK)));

    /// <summary>Altitude in the standard atmosphere that has the density of the air, feet. Dry air, troposphere.</summary>
    /// <param name="pressureAltitudeFt">Pressure altitude, feet.</param>
    /// <param name="temperatureC">Air temperature, Celsius.</param>
    public static double DensityAltitudeFt(double pressureAltitudeFt, double temperatureC) =>
        Units.MToFt(SeaLevelK / LapseKPerM * (1 - Math.Pow(DensityRatio(pressureAltitudeFt, temperatureC), 1 / (Exponent - 1))));

    /// <summary>What an altimeter shows that is set to a QNH, feet.</summary>
    /// <param name="pressureAltitudeFt">Pressure altitude, feet.</param>
    /// <param name="qnhHpa">Altimeter setting, hPa.</param>
    public static double IndicatedAltitudeFt(double pressureAltitudeFt, double qnhHpa) => pressureAltitudeFt - PressureAltitudeFt(qnhHpa);

    /// <summary>Pressure altitude behind an altimeter reading, feet.</summary>
    /// <param name="indicatedAltitudeFt">Altimeter reading, feet.</param>
    /// <param name="qnhHpa">Altimeter setting, hPa.</param>
    public static double PressureAltitudeFromIndicatedFt(double indicatedAltitudeFt, double qnhHpa) => indicatedAltitudeFt + PressureAltitudeFt(qnhHpa);

    /// <summary>
    /// Height above the station that gave the QNH, true rather than indicated, feet: in air that is colder than standard the true
    /// height is less by the ratio of the absolute temperatures.
    /// </summary>
    /// <param name="indicatedAboveStationFt">Indicated height above the station, feet.</param>
    /// <param name="isaDeviationC">Mean departure of the air between from the standard atmosphere, Celsius.</param>
    /// <param name="pressureAltitudeFt">Pressure altitude of the aeroplane, feet.</param>
    public static double TrueHeightFt(double indicatedAboveStationFt, double isaDeviationC, double pressureAltitudeFt)
    {
        var meanK = TemperatureK(pressureAltitudeFt - (indicatedAboveStationFt / 2));
        return indicatedAboveStationFt * (meanK + isaDeviationC) / meanK;
    }

    private static double TemperatureK(double altitudeFt)
    {
        var altitudeM = HeightM(altitudeFt);
        return altitudeM <= TropopauseM ? SeaLevelK - (LapseKPerM * altitudeM) : StratosphereK;
    }

    private static double HeightM(double altitudeFt)
    {
        var altitudeM = Units.FtToM(altitudeFt);
        if (!(altitudeM >= LowestM && altitudeM <= HighestM))
        {
            throw new ArgumentOutOfRangeException(nameof(altitudeFt), altitudeFt, $"The layers given here reach from {LowestM} to {HighestM} m.");
        }

        return altitudeM;
    }
}
