using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Units in headers and units rows, with the conversion into the column's own unit: add the offset, then multiply by the factor.
/// </summary>
internal readonly record struct CsvUnit(double Factor, double Offset = 0)
{
    /// <summary>The column's own unit already.</summary>
    public static readonly CsvUnit Same = new(1);

    /// <summary>A pressure without a unit: its size shows it.</summary>
    public static readonly CsvUnit PressureBySize = new(double.NaN);

    private const double MpsPerMph = 1609.344 / 3600;

    private static readonly HashSet<string> Names =
    [
        "ft",
        "feet",
        "foot",
        "m",
        "meter",
        "meters",
        "metre",
        "metres",
        "fl",
        "km",
        "kt",
        "kts",
        "kn",
        "knot",
        "knots",
        "kmh",
        "kph",
        "km/h",
        "mph",
        "m/s",
        "mps",
        "ms",
        "fpm",
        "ft/min",
        "feet/min",
        "ft/m",
        "ftpermin",
        "fps",
        "ft/s",
        "deg",
        "degs",
        "degree",
        "degrees",
        "°",
        "degm",
        "degt",
        "degmag",
        "degtrue",
        "rad",
        "radians",
        "c",
        "degc",
        "°c",
        "celsius",
        "f",
        "degf",
        "°f",
        "k",
        "hpa",
        "mb",
        "mbar",
        "inhg",
        "inch",
        "inches",
        "in",
        "pa",
        "kpa",
        "bar",
        "s",
        "sec",
        "second",
        "seconds",
        "millis",
        "msec",
        "millisecond",
        "milliseconds",
        "utc",
        "iso8601",
        "%",
        "-",
        "#",
        "enum",
        "bool",
        "g",
        "volts",
        "amps",
        "v",
        "a",
        "rpm",
        "gph",
        "gals",
        "gal",
        "psi",
        "nm",
        "mt",
        "ident",
        "dd",
        "degdec",
        "yyyy-mm-dd",
        "hh:mm:ss",
        "hh:mm",
        "dd/mm/yyyy",
        "mm/dd/yyyy",
        "dd.mm.yyyy",
        "yyyy/mm/dd",
        "hh:mm:ss.s",
        "hh:mm:ss.sss",
        "ddmm",
        "ddmm.mmmm",
        "dddmm.mmmm",
    ];

    /// <summary>Whether a cell of a units row names a unit or a form of date or time.</summary>
    public static bool IsName(ReadOnlySpan<char> cell) => Names.Contains(Normalised(cell));

    /// <summary>How values in <paramref name="name"/> become the column's own unit; null for a unit the column cannot have.</summary>
    public static CsvUnit? For(TrackColumn column, string name) =>
        (Quantity(column), Normalised(name)) switch
        {
            ('h', "ft" or "feet" or "foot") => Same,
            ('h', "m" or "meter" or "meters" or "metre" or "metres") => new(Units.MToFt(1)),
            ('h', "km") => new(Units.MToFt(1000)),
            ('h', "fl") => new(100),
            ('v', "kt" or "kts" or "kn" or "knot" or "knots") => Same,
            ('v', "kmh" or "kph" or "km/h") => new(Units.MpsToKt(1 / 3.6)),
            ('v', "mph") => new(Units.MpsToKt(MpsPerMph)),
            ('v', "m/s" or "mps" or "ms") => new(Units.MpsToKt(1)),
            ('w', "fpm" or "ft/min" or "feet/min" or "ft/m" or "ftpermin") => Same,
            ('w', "m/s" or "mps" or "ms") => new(Units.MToFt(60)),
            ('w', "fps" or "ft/s") => new(60),
            ('w', "kt" or "kts" or "kn" or "knots") => new(Units.MToFt(60) * Units.MpsPerKt),
            ('a', "deg" or "degs" or "degree" or "degrees" or "°" or "degm" or "degt" or "degmag" or "degtrue" or "degdec" or "dd") => Same,
            ('a' or 'd', "rad" or "radians") => new(Units.RadToDeg(1)),
            ('d', var side) when Side(side) is var sign and not 0 => new(sign),
            ('d', "deg" or "degs" or "degree" or "degrees" or "°" or "degdec" or "dd") => Same,
            ('p', "hpa" or "mb" or "mbar") => Same,
            ('p', "inhg" or "inch" or "inches" or "in") => new(Units.HpaPerInHg),
            ('p', "pa") => new(0.01),
            ('p', "kpa") => new(10),
            ('p', "bar") => new(1000),
            ('t', "c" or "degc" or "°c" or "celsius" or "deg") => Same,
            ('t', "f" or "degf" or "°f") => new(5 / 9.0, -32),
            ('t', "k") => new(1, -273.15),
            _ => null,
        };

    /// <summary>Whether a unit of variation says which side is positive, as <c>° west</c> does.</summary>
    public static bool NamesSide(string name) => Side(Normalised(name)) != 0;

    /// <summary>Units that a person can choose; the column's own unit comes first.</summary>
    public static IReadOnlyList<string> Offered(TrackColumn column) =>
        Quantity(column) switch
        {
            'h' => ["ft", "m", "FL"],
            'v' => ["kt", "km/h", "mph", "m/s"],
            'w' => ["fpm", "m/s", "ft/s", "kt"],
            'p' => ["hPa", "inHg", "Pa", "kPa"],
            't' => ["°C", "°F", "K"],
            'd' => ["° east", "° west"],
            _ => ["deg", "rad"],
        };

    private static int Side(string unit) =>
        unit switch
        {
            "e" or "°e" or "dege" or "east" or "°east" or "degeast" => 1,
            "w" or "°w" or "degw" or "west" or "°west" or "degwest" => -1,
            _ => 0,
        };

    private static char Quantity(TrackColumn column) =>
        column switch
        {
            TrackColumn.GpsAltitudeFt or TrackColumn.PressureAltitudeFt or TrackColumn.IndicatedAltitudeFt => 'h',
            TrackColumn.IndicatedAirspeedKt or TrackColumn.TrueAirspeedKt or TrackColumn.GroundSpeedKt => 'v',
            TrackColumn.VerticalSpeedFpm => 'w',
            TrackColumn.AltimeterSettingHpa => 'p',
            TrackColumn.OutsideAirTemperatureC => 't',
            TrackColumn.MagneticVariationDeg => 'd',
            _ => 'a',
        };

    /// <summary>Lower case, without brackets, blanks, underlines and words that name a datum rather than a unit.</summary>
    private static string Normalised(ReadOnlySpan<char> cell)
    {
        Span<char> kept = stackalloc char[Math.Min(cell.Length, 24)];
        var n = 0;
        foreach (var c in cell)
        {
            if (char.IsWhiteSpace(c) || c is '(' or ')' or '[' or ']' or '_' or '"' or '#')
                continue;
            if (n == kept.Length)
                return "";
            kept[n++] = char.ToLowerInvariant(c);
        }
        var text = kept[..n].ToString();
        return text switch
        {
            "ftmsl" or "ftbaro" or "ftagl" or "ftstd" or "ftwgs" => "ft",
            "mmsl" or "mstd" or "mwgs" => "m",
            "m/s" or "m.s-1" or "ms-1" => "m/s",
            "" when cell.Contains('#') => "#",
            _ => text,
        };
    }
}
