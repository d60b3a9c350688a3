using System.Globalization;
using System.Text.RegularExpressions;

namespace SchoolDrills.Engine.Planning;

/// <summary>A line of height, wind and temperature as people type it: <c>3000 270/25 +05</c>, <c>FL050 27025KT -2</c>.</summary>
internal static partial class PlainWindReader
{
    /// <summary>True where the line is of this kind, whether or not its wind could be taken.</summary>
    public static bool Reads(string line, WeatherFound found)
    {
        if (Height().Match(line) is not { Success: true } height)
            return false;
        var rest = height.Groups["rest"].Value.Trim();
        var altitudeFt =
            height.Groups["level"] is { Success: true } level ? Number(level) * 100
            : height.Groups["feet"] is { Success: true } feet
                ? double.Parse(feet.Value.Replace(",", "", StringComparison.Ordinal), CultureInfo.InvariantCulture)
            : found.AerodromeFt;
        if (Wind().Match(rest) is not { Success: true } wind)
        {
            // A line of heights or of coded groups begins with a number too.
            if (!rest.Contains('/', StringComparison.Ordinal) && !rest.Contains("KT", StringComparison.Ordinal))
                return false;
            found.Problem($"'{WeatherText.Shown(line)}': '{WeatherText.Shown(rest)}' is no wind and temperature such as '270/25 +05'.");
            return true;
        }

        var words = WeatherText.Shown(line);
        if (wind.Groups["calm"].Success)
            found.Wind(words, altitudeFt, 0, 0);
        else if (wind.Groups["vrb"].Success)
            VariableWind.Take(found, words, altitudeFt, Number(wind.Groups["speed"]));
        else
            found.Wind(words, altitudeFt, Number(wind.Groups["from"]), Number(wind.Groups["speed"]));
        if (wind.Groups["degrees"] is { Success: true } degrees)
            found.Temperature(words, altitudeFt, (wind.Groups["sign"].Value is "-" or "M" or "MS" ? -1 : 1) * Number(degrees));
        return true;
    }

    private static double Number(Group group) => double.Parse(group.Value, CultureInfo.InvariantCulture);

    [GeneratedRegex(
        @"^(?:FL ?(?<level>\d{2,3})|(?<feet>\d{1,2},\d{3}|\d{3,5}) ?(?:FT)?|(?:SFC|GND))(?: ?[:=]| )(?<rest>.+)$",
        RegexOptions.ExplicitCapture
    )]
    private static partial Regex Height();

    [GeneratedRegex(
        @"^(?:(?<calm>CALM|0{3} ?/ ?0{1,3} ?(?:KTS?)?|00000KT)|(?:(?<from>\d{3})(?<speed>\d{2,3})KTS?|(?:(?<vrb>VRB)|(?<from>\d{1,3}))"
            + @" ?[/@] ?(?<speed>\d{1,3}) ?(?:KTS?)?|(?<vrb>VRB)(?<speed>\d{2,3})KTS?))"
            + @"(?: (?<sign>[+-]|MS?|PS?)? ?(?<degrees>\d{1,2}) ?C?)?$",
        RegexOptions.ExplicitCapture
    )]
    private static partial Regex Wind();
}

/// <summary>A wind whose direction nobody can say.</summary>
internal static class VariableWind
{
    /// <summary>Light enough, it is planned as calm; else it is not taken, as any direction would be a guess.</summary>
    public static void Take(WeatherFound found, string words, double altitudeFt, double speedKt)
    {
        if (speedKt <= PlanModel.LightVariableKt)
        {
            found.Wind(words, altitudeFt, 0, 0, ": light and variable");
            return;
        }

        found.Problem(
            $"'{words}': a variable wind of {WeatherFound.Text(speedKt)} kt has no direction to plan with; type the one you expect."
        );
    }
}
