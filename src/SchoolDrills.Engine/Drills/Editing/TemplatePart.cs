using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>Places of a template and what stands there, in words.</summary>
internal static partial class TemplatePart
{
    private static readonly Dictionary<string, string> Members = new()
    {
        ["title"] = "title",
        ["purpose"] = "purpose",
        ["trains"] = "what it trains",
        ["prerequisites"] = "prerequisite",
        ["commonErrors"] = "common error",
        ["sources"] = "source",
        ["standardSlug"] = "standard",
        ["entry"] = "entry",
        ["headingMagDeg"] = "heading",
        ["altitudeFt"] = "altitude",
        ["airspeedKt"] = "airspeed",
        ["mirrored"] = "mirrored",
        ["halfRate"] = "half rate",
        ["name"] = "name",
        ["durationS"] = "time",
        ["turnDeg"] = "turn",
        ["turnRateDegPerS"] = "rate of turn",
        ["climbFt"] = "change of altitude",
        ["verticalSpeedFpm"] = "vertical speed",
        ["speedChangeKt"] = "change of speed",
        ["tolerances"] = "tolerance",
        ["repeat"] = "repetitions",
        ["checks"] = "check",
        ["loadTasks"] = "load task",
        ["kind"] = "kind",
        ["items"] = "item",
        ["fromS"] = "time",
        ["windowS"] = "window",
        ["script"] = "words",
        ["atS"] = "time",
        ["expectedAnswer"] = "answer",
        ["within"] = "limit",
        ["parameter"] = "parameter",
    };

    /// <summary>A place: segment 3.1, turn; entry, heading; check 2, items.</summary>
    public static string Words(string path)
    {
        var segments = SegmentPath.Indexes(path);
        var words = new List<string>();
        if (segments.Length > 0)
            words.Add($"segment {string.Join('.', segments.Select(i => Text(i + 1)))}");
        foreach (var part in path.Split('.').Where(p => !p.StartsWith("segments[", StringComparison.Ordinal)))
        {
            var match = Indexed().Match(part);
            var member = match.Success ? match.Groups[1].Value : part;
            var label = Members.GetValueOrDefault(member, member);
            words.Add(match.Success ? $"{label} {Text(1 + int.Parse(match.Groups[2].Value, CultureInfo.InvariantCulture))}" : label);
        }

        return string.Join(", ", words);
    }

    /// <summary>What stands at a place.</summary>
    public static string Value(string path, JsonNode? node)
    {
        var member = Member(path);
        return node switch
        {
            null => "nothing",
            JsonObject o when path.EndsWith(']') && member == "segments" => SegmentWords.Of(TemplateNodes.Segment(o)),
            JsonObject o => string.Join(", ", o.Select(m => Value($"{path}.{m.Key}", m.Value)).Where(w => w.Length > 0)),
            JsonArray a => string.Join(", ", a.Select((n, i) => Value(SegmentPath.Of(path, i), n))),
            JsonValue v when v.GetValueKind() == JsonValueKind.Number => Quantity(member, v.GetValue<JsonElement>().GetDouble()),
            JsonValue v when v.GetValueKind() == JsonValueKind.String => Quoted(v.GetValue<string>()),
            _ => node.GetValueKind() == JsonValueKind.True ? "yes" : "no",
        };
    }

    private static string Member(string path)
    {
        var last = path[(path.LastIndexOf('.') + 1)..];
        return last.IndexOf('[', StringComparison.Ordinal) is > 0 and var at ? last[..at] : last;
    }

    private static string Quantity(string member, double value) =>
        member switch
        {
            "turnDeg" => SegmentWords.Turn(value),
            "climbFt" => SegmentWords.Climb(value),
            "speedChangeKt" => SegmentWords.Speed(value),
            "durationS" or "fromS" or "atS" or "windowS" => SegmentWords.Clock(value),
            "turnRateDegPerS" => $"{SegmentWords.Number(value)}°/s",
            "verticalSpeedFpm" => $"{SegmentWords.Number(value)} fpm",
            "headingMagDeg" => $"{TimelineCalls.Heading(value)}°",
            "altitudeFt" => $"{SegmentWords.Number(value)} ft",
            "airspeedKt" => $"{SegmentWords.Number(value)} kt",
            "repeat" => SegmentWords.Times((int)value),
            _ => SegmentWords.Number(value),
        };

    private static string Quoted(string text) => text.Length > 60 ? $"“{text[..57].TrimEnd()}…”" : $"“{text}”";

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^(\w+)\[(\d+)\]$")]
    private static partial Regex Indexed();
}
