using System.Globalization;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Layout;

/// <summary>Numbers as they are printed: real minus and degree signs, three-figure headings, units of the trade.</summary>
public static class Figures
{
    private const string Minus = "−";
    private const string Missing = "–";

    /// <summary>035°.</summary>
    public static string Heading(double headingMagDeg)
    {
        var whole = (int)Math.Round(headingMagDeg, MidpointRounding.AwayFromZero) % 360;
        return (whole <= 0 ? whole + 360 : whole).ToString("000", CultureInfo.InvariantCulture) + "°";
    }

    /// <summary>4,500 ft.</summary>
    public static string Altitude(double altitudeFt) => Whole(altitudeFt) + " ft";

    /// <summary>1:30 on the drill's clock.</summary>
    public static string Clock(double seconds)
    {
        var whole = (int)Math.Round(Math.Abs(seconds), MidpointRounding.AwayFromZero);
        return $"{(seconds < 0 && whole > 0 ? Minus : "")}{whole / 60}:{whole % 60:00}";
    }

    /// <summary>94%.</summary>
    public static string Share(double? share) => share is { } s ? ParameterFormat.Percent(s) : Missing;

    /// <summary>118 ft, 12°, 0.4°/s, −3 s; an en dash where nothing is known.</summary>
    public static string Quantity(double? value, string unit) => value is { } v ? Text(v, unit, plus: false) : Missing;

    /// <summary>As <see cref="Quantity"/>, with a plus sign before what is above the target.</summary>
    public static string Offset(double? value, string unit) => value is { } v ? Text(v, unit, plus: true) : Missing;

    /// <summary>±100 ft.</summary>
    public static string Band(double within, string unit) =>
        "±" + Text(within, unit, plus: false).Replace(".0°/s", "°/s", StringComparison.Ordinal);

    /// <summary>2.4 MB.</summary>
    public static string Bytes(long bytes) =>
        bytes switch
        {
            < 1_000 => T["{0} bytes", bytes],
            < 1_000_000 => T["{0} kB", (bytes / 1_000.0).ToString("0", CultureInfo.InvariantCulture)],
            < 1_000_000_000 => T["{0} MB", (bytes / 1_000_000.0).ToString("0.0", CultureInfo.InvariantCulture)],
            _ => T["{0} GB", (bytes / 1_000_000_000.0).ToString("#,0.0", CultureInfo.InvariantCulture)],
        };

    /// <summary>1 drill, 1,200 drills; looked up as "1 drill" and "{0} drills".</summary>
    public static string Count(int n, string one, string many) => n == 1 ? T["1 " + one] : T["{0} " + many, Whole(n)];

    /// <summary>1,200.</summary>
    public static string Whole(double value)
    {
        var text = Math.Abs(value).ToString("#,0", CultureInfo.InvariantCulture);
        return value < 0 && text != "0" ? Minus + text : text;
    }

    private static string Text(double value, string unit, bool plus)
    {
        var number = Math.Abs(value).ToString(unit == "deg/s" ? "0.0" : "#,0", CultureInfo.InvariantCulture);
        var zero = number.Trim('0', '.').Length == 0;
        var sign =
            zero ? ""
            : value < 0 ? Minus
            : plus ? "+"
            : "";
        return unit switch
        {
            "deg" => $"{sign}{number}°",
            "deg/s" => $"{sign}{number}°/s",
            _ => $"{sign}{number} {unit}",
        };
    }
}
