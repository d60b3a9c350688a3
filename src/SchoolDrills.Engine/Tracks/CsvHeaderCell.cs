namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// A parsed header: its words in one spelling (<c>Hdg Mag</c>, <c>heading_magnetic</c> and <c>HeadingMag</c> become equal) and
/// the unit it names, if any.
/// </summary>
internal sealed class CsvHeaderCell
{
    /// <summary>Words, and after the colon their other spellings.</summary>
    private const string Thesaurus = """
        latitude: lat
        latitude longitude: latlon latlng latlong lonlat lnglat
        position: pos
        coordinates: coordinate coords coord
        hemisphere: hemi
        longitude: lon lng long
        altitude: alt elev ele elevation height hgt
        heading: hdg
        magnetic: mag
        magnetic variation: magvar magdec magdev
        true airspeed: tas ktas
        indicated airspeed: ias kias
        calibrated airspeed: cas kcas
        ground speed: gs sog groundspeed
        vertical speed: vs vsi vvi vspd verticalspeed vario variometer climb roc
        speed: spd velocity
        vertical: vert
        ground: gnd
        track: trk
        course: crs cog
        roll: bank
        temperature: temp
        indicated: ind
        gps: gnss satellite
        ellipsoid: ellipsoidal wgs wgs84 hae
        msl: amsl
        standard: std
        pressure: press pres
        barometric: baro barometer
        flight level: fl
        gps altitude: gpsalt
        barometric altitude: baroalt
        pressure altitude: palt
        utc: gmt zulu
        local: lcl
        offset: ofst
        zone: tz
        time: timestamp
        time zone: timezone
        date time: datetime
        utc time: utctime
        utc date: utcdate
        utc offset: utcoffset
        """;

    private static readonly Dictionary<string, string[]> Spellings = Thesaurus
        .Split('\n')
        .Select(line => line.Split(':'))
        .SelectMany(entry =>
            entry[1]
                .Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
                .Select(spelling => (spelling, entry[0].Trim().Split(' ')))
        )
        .ToDictionary();

    private static readonly HashSet<string> UnitWords =
    [
        "ft",
        "feet",
        "kt",
        "kts",
        "knots",
        "deg",
        "degrees",
        "fpm",
        "hpa",
        "mb",
        "mbar",
        "inhg",
        "kmh",
        "kph",
        "mph",
        "mps",
        "meters",
        "metres",
        "rad",
        "degm",
        "degt",
        "celsius",
        "pa",
        "kpa",
    ];

    /// <summary>Units of one letter are units only where a header ends.</summary>
    private static readonly HashSet<string> LastUnitWords = ["m", "c", "f", "k", "s", "ms", "km", "fps", "in"];

    public CsvHeaderCell(string text)
    {
        Text = text.Trim();
        var tokens = Split(Text);
        Side = TakeSide(tokens);
        Unit = TakeUnit(tokens);
        IsElevation = tokens.Exists(t => t is "ele" or "elev" or "elevation" or "height" or "hgt");
        Words = [.. tokens.SelectMany(t => Spellings.GetValueOrDefault(t) ?? [t])];
    }

    /// <summary>As the file has it.</summary>
    public string Text { get; }

    public HashSet<string> Words { get; }

    /// <summary>Empty when the header names none.</summary>
    public string Unit { get; }

    /// <summary>The letter of south or west, for a position that counts that way; empty for none.</summary>
    public string Side { get; }

    /// <summary>An altitude called elevation or height, which loggers write in metres.</summary>
    public bool IsElevation { get; }

    public bool Has(string word) => Words.Contains(word);

    public bool HasAny(params ReadOnlySpan<string> words)
    {
        foreach (var word in words)
        {
            if (Words.Contains(word))
                return true;
        }
        return false;
    }

    private static string TakeSide(List<string> tokens)
    {
        if (tokens is not ([.., "lat" or "latitude", "s"] or [.., "lon" or "lng" or "long" or "longitude", "w"]))
            return "";
        var side = tokens[^1];
        tokens.RemoveAt(tokens.Count - 1);
        return side;
    }

    private static string TakeUnit(List<string> tokens)
    {
        for (var i = tokens.Count - 1; i > 0; i--)
        {
            var pair = i + 1 < tokens.Count ? $"{tokens[i]}/{tokens[i + 1]}" : "";
            if (pair is "m/s" or "km/h" or "ft/min" or "feet/min" or "ft/s")
            {
                tokens.RemoveRange(i, 2);
                return pair;
            }
        }
        for (var i = tokens.Count - 1; i > 0; i--)
        {
            if (UnitWords.Contains(tokens[i]) || (i == tokens.Count - 1 && LastUnitWords.Contains(tokens[i])))
            {
                var unit = tokens[i];
                tokens.RemoveAt(i);
                return unit;
            }
        }
        return "";
    }

    /// <summary>Lower-case words, split at anything that is not a letter or digit and where a capital begins a word.</summary>
    private static List<string> Split(string text)
    {
        var tokens = new List<string>();
        var start = -1;
        for (var i = 0; i <= text.Length; i++)
        {
            var inWord = i < text.Length && char.IsLetterOrDigit(text[i]);
            var capitalBegins =
                inWord
                && start >= 0
                && char.IsUpper(text[i])
                && (!char.IsUpper(text[i - 1]) || (i + 1 < text.Length && char.IsLower(text[i + 1])));
            if (start >= 0 && (!inWord || capitalBegins))
            {
                tokens.Add(text[start..i].ToLowerInvariant());
                start = -1;
            }
            if (inWord && start < 0)
                start = i;
        }
        for (var i = 0; i + 1 < tokens.Count; i++)
        {
            var joined = (tokens[i], tokens[i + 1]) switch
            {
                ("v", "spd" or "speed") => "vs",
                ("n", "s") => "ns",
                ("e", "w") => "ew",
                ("utc", "d") => "utcdate",
                ("utc", "t") => "utctime",
                _ => null,
            };
            if (joined is null)
                continue;
            tokens[i] = joined;
            tokens.RemoveAt(i + 1);
        }
        return tokens;
    }
}
