namespace SchoolDrills.Engine.Flight;

/// <summary>
/// The international standard atmosphere from 5,000 m below sea level to 20,000 m: troposphere and lower stratosphere, dry air. Altitudes
/// are geopotential. NaN, the mark of a missing value, comes out as NaN. Source: ICAO Doc 7488/3, its constants and equations.
/// </summary>
public static class Atmosphere
{
    /// <summary>Standard pressure at sea level, hPa.</summary>
    public const double StandardPressureHpa = 1013.25;

    /// <summary>Standard temperature at sea level, kelvin, and 0 °C, kelvin.</summary>
    private const double SeaLevelK = 288.15,
        ZeroCelsiusK = 273.15;

    /// <summary>Gas constant of air, J/(kg K); fall of temperature in the troposphere, K/m; ratio of specific heats.</summary>
    private const double GasConstant = 287.05287,
        LapseKPerM = 0.0065,
        HeatRatio = 1.4;

    /// <summary>Height of the tropopause, metres, and temperature above it, kelvin.</summary>
    private const double TropopauseM = 11_000,
        StratosphereK = 216.65;

    /// <summary>Range of the layers given here, metres.</summary>
    private const double LowestM = -5_000,
        HighestM = 20_000;

    /// <summary>Exponent of the troposphere's pressure, g/(R L) = 5.25588.</summary>
    private const double Exponent = Units.StandardGravityMps2 / (GasConstant * LapseKPerM);

    /// <summary>Height in which pressure and density of the stratosphere fall by e, metres.</summary>
    private const double ScaleHeightM = GasConstant * StratosphereK / Units.StandardGravityMps2;

    private const double SeaLevelDensity = StandardPressureHpa * 100 / (GasConstant * SeaLevelK);

    private static readonly double TropopausePressureRatio = Math.Pow(StratosphereK / SeaLevelK, Exponent);

    private static readonly double TropopauseDensityRatio = Math.Pow(StratosphereK / SeaLevelK, Exponent - 1);

    /// <summary>Standard temperature, Celsius.</summary>
    /// <param name="altitudeFt">Pressure altitude, feet.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside −5,000 to 20,000 m.</exception>
    public static double TemperatureC(double altitudeFt) => TemperatureK(altitudeFt) - ZeroCelsiusK;

    /// <summary>Standard pressure, hPa.</summary>
    /// <param name="altitudeFt">Pressure altitude, feet.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside −5,000 to 20,000 m.</exception>
    public static double PressureHpa(double altitudeFt)
    {
        var altitudeM = Units.FtToM(altitudeFt);
        var troposphereRatio = Math.Pow(TemperatureK(altitudeFt) / SeaLevelK, Exponent);
        return StandardPressureHpa
            * (altitudeM > TropopauseM ? TropopausePressureRatio * Math.Exp((TropopauseM - altitudeM) / ScaleHeightM) : troposphereRatio);
    }

    /// <summary>Pressure altitude of a pressure, feet.</summary>
    /// <param name="pressureHpa">Pressure, hPa.</param>
    /// <exception cref="ArgumentOutOfRangeException">A pressure that is not found between −5,000 and 20,000 m.</exception>
    public static double PressureAltitudeFt(double pressureHpa)
    {
        if (pressureHpa <= 0)
            throw new ArgumentOutOfRangeException(nameof(pressureHpa), pressureHpa, "A pressure is more than 0 hPa.");
        return AltitudeFt(pressureHpa / StandardPressureHpa, TropopausePressureRatio, Exponent);
    }

    /// <summary>Density of dry air, kg/m³.</summary>
    /// <param name="altitudeFt">Pressure altitude, feet.</param>
    /// <param name="temperatureC">Air temperature, Celsius, above absolute zero; standard when null.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside −5,000 to 20,000 m, or no temperature of air.</exception>
    public static double DensityKgPerM3(double altitudeFt, double? temperatureC = null) =>
        PressureHpa(altitudeFt) * 100 / (GasConstant * (temperatureC is { } measured ? AbsoluteK(measured) : TemperatureK(altitudeFt)));

    /// <summary>Density over that at sea level in the standard atmosphere, σ.</summary>
    /// <param name="altitudeFt">Pressure altitude, feet.</param>
    /// <param name="temperatureC">Air temperature, Celsius, above absolute zero; standard when null.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside −5,000 to 20,000 m, or no temperature of air.</exception>
    public static double DensityRatio(double altitudeFt, double? temperatureC = null) =>
        DensityKgPerM3(altitudeFt, temperatureC) / SeaLevelDensity;

    /// <summary>Speed of sound, knots.</summary>
    /// <param name="temperatureC">Air temperature, Celsius, above absolute zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">No temperature of air.</exception>
    public static double SpeedOfSoundKt(double temperatureC) => Units.MpsToKt(Math.Sqrt(HeatRatio * GasConstant * AbsoluteK(temperatureC)));

    /// <summary>
    /// Altitude in the standard atmosphere that has the density of the air, feet. Humidity makes the air thinner still; that is neglected.
    /// </summary>
    /// <param name="pressureAltitudeFt">Pressure altitude, feet.</param>
    /// <param name="temperatureC">Air temperature, Celsius.</param>
    /// <exception cref="ArgumentOutOfRangeException">The air or its density is outside −5,000 to 20,000 m.</exception>
    public static double DensityAltitudeFt(double pressureAltitudeFt, double temperatureC) =>
        AltitudeFt(DensityRatio(pressureAltitudeFt, temperatureC), TropopauseDensityRatio, Exponent - 1);

    /// <summary>
    /// What an altimeter shows that is set to a QNH, feet: an altimeter's scale is shifted by its setting, whatever the air.
    /// </summary>
    /// <param name="pressureAltitudeFt">Pressure altitude, feet.</param>
    /// <param name="qnhHpa">Altimeter setting, hPa.</param>
    /// <exception cref="ArgumentOutOfRangeException">A setting that no altimeter has.</exception>
    public static double IndicatedAltitudeFt(double pressureAltitudeFt, double qnhHpa) => pressureAltitudeFt - PressureAltitudeFt(qnhHpa);

    /// <summary>Pressure altitude behind an altimeter reading, feet.</summary>
    /// <param name="indicatedAltitudeFt">Altimeter reading, feet.</param>
    /// <param name="qnhHpa">Altimeter setting, hPa.</param>
    /// <exception cref="ArgumentOutOfRangeException">A setting that no altimeter has.</exception>
    public static double PressureAltitudeFromIndicatedFt(double indicatedAltitudeFt, double qnhHpa) =>
        indicatedAltitudeFt + PressureAltitudeFt(qnhHpa);

    /// <summary>
    /// Height above the station that gave the QNH, true rather than indicated, feet: air colder than standard is packed more closely, and
    /// the true height is less. The departure from standard is taken as even in between. Source: ICAO Doc 8168, the accurate temperature
    /// correction of altitudes.
    /// </summary>
    /// <param name="indicatedAboveStationFt">Indicated height above the station, feet.</param>
    /// <param name="isaDeviationC">Departure of the air's temperature from standard, Celsius.</param>
    /// <param name="pressureAltitudeFt">Pressure altitude of the aeroplane, feet, in the troposphere.</param>
    /// <exception cref="ArgumentOutOfRangeException">The aeroplane or the station is not between −5,000 and 11,000 m.</exception>
    public static double TrueHeightFt(double indicatedAboveStationFt, double isaDeviationC, double pressureAltitudeFt)
    {
        if (Units.FtToM(pressureAltitudeFt) > TropopauseM)
        {
            throw new ArgumentOutOfRangeException(
                nameof(pressureAltitudeFt),
                pressureAltitudeFt,
                $"The correction holds below the tropopause, {TropopauseM} m."
            );
        }

        var stationK = TemperatureK(pressureAltitudeFt - indicatedAboveStationFt);
        return indicatedAboveStationFt + Units.MToFt(isaDeviationC / LapseKPerM * Math.Log(stationK / TemperatureK(pressureAltitudeFt)));
    }

    /// <summary>Altitude at which pressure or density has fallen to a share of that at sea level, feet.</summary>
    private static double AltitudeFt(double ratio, double tropopauseRatio, double exponent)
    {
        var altitudeM =
            ratio < tropopauseRatio
                ? TropopauseM - (ScaleHeightM * Math.Log(ratio / tropopauseRatio))
                : SeaLevelK / LapseKPerM * (1 - Math.Pow(ratio, 1 / exponent));
        return Units.MToFt(InLayers(altitudeM));
    }

    private static double TemperatureK(double altitudeFt) =>
        Math.Max(StratosphereK, SeaLevelK - (LapseKPerM * InLayers(Units.FtToM(altitudeFt))));

    private static double AbsoluteK(double temperatureC) =>
        temperatureC <= -ZeroCelsiusK
            ? throw new ArgumentOutOfRangeException(nameof(temperatureC), temperatureC, $"A temperature is more than {-ZeroCelsiusK} °C.")
            : temperatureC + ZeroCelsiusK;

    private static double InLayers(double altitudeM)
    {
        // Rounding is allowed at the ends, so that a pressure calculated there converts back.
        if (altitudeM < LowestM - 1e-6 || altitudeM > HighestM + 1e-6)
        {
            throw new ArgumentOutOfRangeException(
                nameof(altitudeM),
                altitudeM,
                $"The layers given here reach from {LowestM} to {HighestM} m."
            );
        }

        return altitudeM;
    }
}
