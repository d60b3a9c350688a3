using System.Globalization;
using System.Text.RegularExpressions;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Planning;

/// <summary>
/// An aerodrome report, FM 15 METAR or FM 16 SPECI: wind, temperature and QNH are taken; the other groups of the code are known and left
/// alone; what no group of the code looks like is said. The forecast of a trend and remarks are not read.
/// </summary>
internal sealed partial class MetarReader(WeatherFound found)
{
    private bool inside,
        ended,
        any;
    private string station = "the report";

    /// <summary>Whether a line begins a report.</summary>
    public static bool Begins(string line) => Beginning().IsMatch(line);

    public void Begin(string line)
    {
        var name = Beginning().Match(line).Groups["station"].Value;
        if (any)
        {
            found.Took($"The report of {name} was left out: the one of {station} came first.");
            (inside, ended) = (true, true);
            return;
        }

        (inside, ended, any, station) = (true, false, true, name);
        Take(line[Beginning().Match(line).Length..]);
    }

    /// <summary>Whether a line belongs to the report above it.</summary>
    public bool GoesOn(string line)
    {
        if (!inside)
            return false;
        Take(line);
        return true;
    }

    public void End() => inside = false;

    private void Take(string line)
    {
        foreach (var token in line.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (ended)
                break;
            Group(token.TrimEnd('='));
            if (token.EndsWith('='))
                (inside, ended) = (false, true);
        }
    }

    private void Group(string token)
    {
        var words = WeatherText.Shown($"{station}: {token}");
        if (token is "NOSIG" or "BECMG" or "TEMPO" or "RMK" or "NIL")
        {
            ended = true;
        }
        else if (Wind().Match(token) is { Success: true } wind)
        {
            TakeWind(words, wind);
        }
        else if (Temperature().Match(token) is { Success: true } temperature)
        {
            var temperatureC = (temperature.Groups["minus"].Success ? -1 : 1) * Number(temperature.Groups["degrees"]);
            found.Temperature(words, found.AerodromeFt, temperatureC, found.AerodromeWords);
        }
        else if (Qnh().Match(token) is { Success: true } qnh)
        {
            var inches = qnh.Groups["inches"];
            found.Qnh(words, inches.Success ? Number(inches) / 100 * Units.HpaPerInHg : Number(qnh.Groups["hpa"]));
        }
        else if (token.Length > 0 && !Known().IsMatch(token))
        {
            found.Problem($"'{words}' is no group of a METAR; it was left out.");
        }
    }

    private void TakeWind(string words, Match wind)
    {
        if (!wind.Groups["speed"].Success || wind.Groups["from"].Value == "///")
        {
            found.Problem($"'{words}': the report has no wind.");
            return;
        }

        var ktPer = wind.Groups["unit"].Value switch
        {
            "MPS" => Units.KtPerMps,
            "KMH" => Units.KtPerKmh,
            _ => 1,
        };
        var speedKt = Number(wind.Groups["speed"]) * ktPer;
        var gust = wind.Groups["gust"] is { Success: true } gusts
            ? $", gusts {WeatherFound.Text(Math.Round(Number(gusts) * ktPer))} kt"
            : "";
        if (wind.Groups["from"].Value == "VRB")
            VariableWind.Take(found, words, found.AerodromeFt, Math.Round(speedKt, 1));
        else
            found.Wind(words, found.AerodromeFt, Number(wind.Groups["from"]), speedKt, gust + found.AerodromeWords);
    }

    private static double Number(System.Text.RegularExpressions.Group group) => double.Parse(group.Value, CultureInfo.InvariantCulture);

    [GeneratedRegex(
        @"^(?:(?:METAR|SPECI)(?: COR)? (?:(?<station>[A-Z][A-Z0-9]{3})(?: \d{6}Z)?)|(?<station>[A-Z][A-Z0-9]{3}) \d{6}Z)(?= |=|$)",
        RegexOptions.ExplicitCapture
    )]
    private static partial Regex Beginning();

    [GeneratedRegex(
        @"^(?<from>\d{3}|VRB|///)(?:P?(?<speed>\d{2,3})|//)(?:GP?(?<gust>\d{2,3}))?(?<unit>KT|MPS|KMH)$",
        RegexOptions.ExplicitCapture
    )]
    private static partial Regex Wind();

    [GeneratedRegex(@"^(?<minus>M)?(?<degrees>\d{2})/(?:M?\d{2}|//)?$", RegexOptions.ExplicitCapture)]
    private static partial Regex Temperature();

    [GeneratedRegex(@"^(?:Q(?<hpa>\d{4})|A(?<inches>\d{4}))$", RegexOptions.ExplicitCapture)]
    private static partial Regex Qnh();

    /// <summary>
    /// The other groups of the code form: time and marks, variable direction, visibility, runway visual range, weather, cloud, recent
    /// weather, wind shear, the sea's surface and the state of the runway; and groups that a station without a sensor fills with slashes.
    /// </summary>
    [GeneratedRegex(
        @"^(?:\d{6}Z|AUTO|COR|\d{3}V\d{3}|\d{4}(?:NDV|[NS][EW]?|[EW])?|CAVOK|[MP]?\d{1,2}SM|\d|[MP]?\d/\d{1,2}SM"
            + @"|R\d{2}[LCR]{0,2}/\S+"
            + @"|(?:[+-]|VC|RE)?(?:MI|BC|PR|DR|BL|SH|TS|FZ|DZ|RA|SN|SG|IC|PL|GR|GS|UP|BR|FG|FU|VA|DU|SA|HZ|PO|SQ|FC|SS|DS)+"
            + @"|(?:FEW|SCT|BKN|OVC|VV|///)(?:\d{3}|///)(?:CB|TCU|///)?|NSC|NCD|SKC|CLR|NSW"
            + @"|WS|ALL|RWY\S*|R\d{2}\S*|W(?:M?\d{2}|//)/[SH]\S+|Q////|A////|/+)$"
    )]
    private static partial Regex Known();
}
