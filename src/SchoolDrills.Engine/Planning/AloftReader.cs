using System.Globalization;
using System.Text.RegularExpressions;

namespace SchoolDrills.Engine.Planning;

/// <summary>
/// A winds-aloft forecast in coded groups: a line of heights, then a line for each station. Groups are <c>DDff</c>, <c>DDff+TT</c> or,
/// above 24,000 ft where temperatures are negative, <c>DDffTT</c>.
/// </summary>
internal sealed partial class AloftReader(WeatherFound found)
{
    private const double TemperaturesNegativeAboveFt = 24_000;

    /// <summary>The heights of a whole line, where the line of heights was not pasted.</summary>
    private static readonly double[] UsualFt = [3000, 6000, 9000, 12000, 18000, 24000, 30000, 34000, 39000];

    private double[]? heightsFt;
    private string? station;

    /// <summary>True where the line belongs to such a forecast, whether or not it could be used.</summary>
    public bool Reads(string line)
    {
        if (Heights().IsMatch(line))
        {
            heightsFt = [.. line.Split(' ').Skip(1).Select(h => double.Parse(h, CultureInfo.InvariantCulture))];
            return true;
        }

        if (Heading().IsMatch(line))
            return true;
        if (Station().Match(line) is not { Success: true } match)
            return false;
        Take(match.Groups["name"].Value, match.Groups["groups"].Value.Split(' '));
        return true;
    }

    private void Take(string name, string[] groups)
    {
        if (station is not null)
        {
            found.Took($"{name} was left out: {station} came first. Take its line out to plan with {name}.");
            return;
        }

        var heights = heightsFt ?? (groups.Length == UsualFt.Length ? UsualFt : null);
        if (heights is null)
        {
            found.Problem($"{name}: nobody can say which heights these groups are for; paste the line that begins with FT as well.");
            return;
        }

        if (groups.Length > heights.Length)
        {
            found.Problem($"{name} has {groups.Length} groups, the line of heights has {heights.Length}.");
            return;
        }

        station = name;
        found.Took($"Winds aloft of {name}.");
        // Left out are the heights near the ground of the station, so that the last group belongs to the last height.
        for (var i = 0; i < groups.Length; i++)
            Take(name, heights[heights.Length - groups.Length + i], groups[i]);
    }

    private void Take(string name, double altitudeFt, string group)
    {
        var words = $"{name} at {WeatherFound.Text(altitudeFt)} ft: {group}";
        if (Group().Match(group) is not { Success: true } match)
        {
            found.Problem($"'{WeatherText.Shown(words)}' is no group such as 2725 or 2725-04.");
            return;
        }

        var (tens, speedKt) = (Number(match.Groups["tens"]), Number(match.Groups["speed"]));
        // 9900 is light and variable; from 100 kt on, 50 is added to the tens of degrees and 100 taken from the speed.
        if (tens == 99 && speedKt == 0)
            found.Wind(words, altitudeFt, 0, 0, ": light and variable");
        else if (tens is >= 1 and <= 36)
            found.Wind(words, altitudeFt, tens * 10, speedKt);
        else if (tens is >= 51 and <= 86)
            found.Wind(words, altitudeFt, (tens - 50) * 10, speedKt + 100);
        else
            found.Problem($"'{words}': {match.Groups["tens"].Value} stands for no direction; it is 01 to 36, or 51 to 86 from 100 kt on.");

        if (match.Groups["degrees"] is not { Success: true } degrees)
            return;
        var sign = match.Groups["sign"].Value;
        if (sign.Length == 0 && altitudeFt <= TemperaturesNegativeAboveFt)
            found.Problem($"'{words}': the temperature has no sign, which is left out above 24,000 ft alone.");
        else
            found.Temperature(words, altitudeFt, (sign == "+" ? 1 : -1) * Number(degrees));
    }

    private static int Number(System.Text.RegularExpressions.Group group) => int.Parse(group.Value, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^FT( \d{3,5})+$")]
    private static partial Regex Heights();

    /// <summary>Lines above the heights: bulletin, times of validity, the note on negative temperatures.</summary>
    [GeneratedRegex(
        @"^(?:F[BD][A-Z]{0,2}\d{0,2} [A-Z]{3,4} \d{6}|F[BD]\d?[A-Z]*\d*|DATA BASED ON .*|VALID .*|FOR USE .*|TEMPS NEG .*|\d{3})$"
    )]
    private static partial Regex Heading();

    [GeneratedRegex(@"^(?<name>[A-Z][A-Z0-9]{2,3})(?: (?<groups>\d{2}\S+( \S+)*))$", RegexOptions.ExplicitCapture)]
    private static partial Regex Station();

    [GeneratedRegex(@"^(?<tens>\d{2})(?<speed>\d{2})(?:(?<sign>[+-])?(?<degrees>\d{2}))?$", RegexOptions.ExplicitCapture)]
    private static partial Regex Group();
}
