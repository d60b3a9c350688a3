using System.Text.RegularExpressions;

namespace SchoolDrills.Engine.Planning;

/// <summary>
/// Reads pasted weather: an aerodrome report (METAR), a winds-aloft forecast in coded groups with its line of heights, and plain lines of
/// height, wind and temperature, in any mixture, one after the other.
/// </summary>
public static partial class WeatherText
{
    /// <summary>Most characters that are read.</summary>
    public const int MostLetters = 20_000;

    /// <summary>Reads a text. Never throws: what is not understood is said in the answer.</summary>
    /// <param name="text">The text as pasted.</param>
    /// <param name="aerodromeFt">Height of the aerodrome whose report it is, feet; null where it is not known.</param>
    public static WeatherReading Read(string? text, double? aerodromeFt = null)
    {
        var found = new WeatherFound(aerodromeFt);
        if (text?.Length > MostLetters)
        {
            found.Problem($"The text is longer than {MostLetters} characters: paste only the report of the place you fly from.");
            return found.Reading();
        }

        var (metar, aloft) = (new MetarReader(found), new AloftReader(found));
        var lines = Plain(text ?? "").Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        foreach (var line in lines)
        {
            if (MetarReader.Begins(line))
                metar.Begin(line);
            else if (PlainWindReader.Reads(line, found) || aloft.Reads(line))
                metar.End();
            else if (!metar.GoesOn(line))
                found.Problem($"'{Shown(line)}' is no METAR, no winds-aloft line and no line such as '3000 270/25 +05'.");
        }

        if (lines.Length == 0)
            found.Problem("There is nothing to read: paste a METAR, a winds-aloft forecast or lines such as '3000 270/25 +05'.");
        else if (!found.Any)
            found.Problem("Nothing was found that a plan can use.");
        return found.Reading();
    }

    /// <summary>A piece of the text, short enough to be shown.</summary>
    internal static string Shown(string piece) => piece.Length > 60 ? piece[..60] + "…" : piece;

    /// <summary>One spelling of what people paste: capitals, plain minus signs and blanks, no degree signs.</summary>
    private static string Plain(string text) =>
        Blanks()
            .Replace(Minuses().Replace(text.ToUpperInvariant(), "-").Replace("°", "", StringComparison.Ordinal), " ")
            .Replace('\r', '\n');

    [GeneratedRegex("[\\u2010-\\u2015\\u2212]")]
    private static partial Regex Minuses();

    [GeneratedRegex("[^\\S\\r\\n]+|\\0")]
    private static partial Regex Blanks();
}
