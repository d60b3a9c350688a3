using System.Globalization;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>How parameters are written: units as the contract has them, sizes as a pilot reads them.</summary>
public static class ParameterFormat
{
    /// <summary>Unit of a parameter as the contract writes it.</summary>
    /// <param name="parameter">The parameter.</param>
    public static string Unit(Parameter parameter) =>
        parameter switch
        {
            Parameter.Altitude => "ft",
            Parameter.Heading or Parameter.Bank => "deg",
            Parameter.Airspeed => "kt",
            Parameter.VerticalSpeed => "fpm",
            Parameter.TurnRate => "deg/s",
            _ => "s",
        };

    /// <summary>A size with its unit, rounded as a pilot reads it: altitude and vertical speed to tens, turn rate to tenths.</summary>
    /// <param name="value">Size, in the parameter's unit.</param>
    /// <param name="parameter">The parameter.</param>
    public static string Text(double value, Parameter parameter) =>
        parameter switch
        {
            Parameter.Altitude => $"{Rounded(value, 10)} ft",
            Parameter.Heading or Parameter.Bank => $"{Rounded(value, 1)}°",
            Parameter.Airspeed => $"{Rounded(value, 1)} kt",
            Parameter.VerticalSpeed => $"{Rounded(value, 10)} fpm",
            Parameter.TurnRate => Tenths(value) + "°/s",
            _ => $"{Rounded(value, 1)} s",
        };

    /// <summary>An altitude with thousands apart.</summary>
    /// <param name="ft">Feet.</param>
    internal static string Altitude(double ft) => Math.Round(ft).ToString("#,0", CultureInfo.InvariantCulture) + " ft";

    /// <summary>63%: a share in whole percent, rounded down so that 99.6% never reads as all, nor 89.6% as a standard of 90%.</summary>
    /// <param name="share">0 to 1.</param>
    public static string Percent(double share) => Math.Floor((share * 100) + Rounding).ToString("0", CultureInfo.InvariantCulture) + "%";

    /// <summary>A number with one decimal.</summary>
    /// <param name="value">The number.</param>
    internal static string Tenths(double value) => value.ToString("0.0", CultureInfo.InvariantCulture);

    // 0.29 · 100 is a little less than 29.
    private const double Rounding = 1e-9;

    private static string Rounded(double value, double step) =>
        (Math.Round(value / step) * step).ToString("0", CultureInfo.InvariantCulture);
}
