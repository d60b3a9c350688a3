namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// A header taken apart: its words in one spelling (<c>Hdg Mag</c>, <c>heading_magnetic</c> and <c>HeadingMag</c> come out alike) and
/// the unit it names, if any.
/// </summary>
internal sealed class CsvHeaderCell
{
    private static readonly Dictionary<string, string[]> Spellings = new()
    {
        ["lat"] = ["latitude"], ["lon"] = ["longitude"], ["lng"] = ["longitude"], ["long"] = ["longitude"],
        ["alt"] = ["altitude"], ["elev"] = ["altitude"], ["ele"] = ["altitude"], ["elevation"] = ["altitude"], ["height"] = ["altitude"], ["hgt"] = ["altitude"],
        ["hdg"] = ["heading"], ["mag"] = ["magnetic"], ["spd"] = ["speed"], ["velocity"] = ["speed"], ["vert"] = ["vertical"], ["gnd"] = ["ground"],
        ["trk"] = ["track"], ["crs"] = ["course"], ["cog"] = ["course"], ["sog"] = ["ground", "speed"], ["temp"] = ["temperature"],
        ["ind"] = ["indicated"], ["gnss"] = ["gps"], ["satellite"] = ["gps"], ["std"] = ["standard"], ["press"] = ["pressure"], ["pres"] = ["pressure"],
        ["baro"] = ["barometric"], ["barometer"] = ["barometric"], ["ofst"] = ["offset"], ["lcl"] = ["local"], ["tz"] = ["zone"], ["timezone"] = ["time", "zone"],
        ["groundspeed"] = ["ground", "speed"], ["gs"] = ["ground", "speed"], ["vspd"] = ["vertical", "speed"], ["vs"] = ["vertical", "speed"],
        ["vsi"] = ["vertical", "speed"], ["vvi"] = ["vertical", "speed"], ["vario"] = ["vertical", "speed"], ["roc"] = ["vertical", "speed"],
        ["variometer"] = ["vertical", "speed"], ["verticalspeed"] = ["vertical", "speed"], ["climb"] = ["vertical", "speed"],
        ["ias"] = ["indicated", "airspeed"], ["kias"] = ["indicated", "airspeed"], ["cas"] = ["calibrated", "airspeed"], ["kcas"] = ["calibrated", "airspeed"],
        ["tas"] = ["true", "airspeed"], ["ktas"] = ["true", "airspeed"], ["datetime"] = ["date", "time"], ["timestamp"] = ["time"], ["zulu"] = ["utc"],
        ["gmt"] = ["utc"], ["utctime"] = ["utc", "time"], ["utcdate"] = ["utc", "date"], ["utcoffset"] = ["utc", "offset"], ["msl"] = ["msl"], ["amsl"] = ["msl"],
        ["gpsalt"] = ["gps", "altitude"], ["baroalt"] = ["barometric", "altitude"], ["palt"] = ["pressure", "altitude"], ["bank"] = ["roll"],
        ["fl"] = ["flight", "level"], ["wgs"] = ["ellipsoid"], ["wgs84"] = ["ellipsoid"], ["hae"] = ["ellipsoid"], ["ellipsoidal"] = ["ellipsoid"],
    };

    private static readonly HashSet<string> UnitWords =
    [
        "ft", "feet", "kt", "kts", "knots", "deg", "degrees", "fpm", "hpa", "mb", "mbar", "inhg", "kmh", "kph", "mph", "mps", "meters", "metres", "rad",
        "degm", "degt", "celsius", "pa", "kpa",
    ];

    /// <summary>Units of one letter are units only where a header ends.</summary>
    private static readonly HashSet<string> LastUnitWords = ["m", "c", "f", "k", "s", "ms", "km", "fps", "in"];

    public CsvHeaderCell(string text)
    {
        Text = text.Trim();
        var tokens = Split(Text);
        Unit = TakeUnit(tokens);
        Words = [.. tokens.SelectMany(t => Spellings.GetValueOrDefault(t) ?? [t])];
    }

    /// <summary>As the file has it.</summary>
    public string Text { get; }

    public HashSet<string> Words { get; }

    /// <summary>Empty when the header names none.</summary>
    public string Unit { get; }

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

    /// <summary>Lower-case words, parted at anything that is not a letter or digit and where capitals begin a word.</summary>
    private static List<string> Split(string text)
    {
        var tokens = new List<string>();
        var start = -1;
        for (var i = 0; i <= text.Length; i++)
        {
            var inWord = i < text.Length && char.IsLetterOrDigit(text[i]);
            var capitalBegins = inWord && start >= 0 && char.IsUpper(text[i])
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
