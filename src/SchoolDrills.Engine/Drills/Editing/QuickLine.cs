using System.Globalization;
using System.Text.RegularExpressions;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>
/// A line typed below the segments: a segment as <see cref="SegmentReading"/> takes it, or <c>repeat 1 to 4 twice as Side</c>, which
/// makes a group of rows.
/// </summary>
/// <param name="Edit">The drill after it; null where it was not understood.</param>
/// <param name="What">What it does, in a few words.</param>
/// <param name="Problem">One sentence where it was not understood.</param>
public sealed partial record QuickLine(SegmentEdit? Edit, string What, string? Problem)
{
    /// <summary>Reads a line.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="template">The drill to which it adds.</param>
    /// <param name="start">Where a segment at the drill's end begins.</param>
    public static QuickLine Read(string text, DrillTemplate template, SegmentStart start)
    {
        if (Repetition().Match(text) is { Success: true } repetition)
            return Repeat(repetition, template);
        var (segment, problem) = SegmentReading.Read(text, start);
        return segment is null
            ? new(null, "", problem)
            : new(SegmentEdits.AddAfter(template, null, segment), SegmentWords.Of(segment), null);
    }

    private static QuickLine Repeat(Match said, DrillTemplate template)
    {
        var (first, last) = (
            said.Groups["first"].Value,
            said.Groups["last"] is { Success: true } to ? to.Value : said.Groups["first"].Value
        );
        var paths = new List<string>();
        foreach (var number in new[] { first, last })
        {
            if (Path(number) is not { } path || SegmentEdits.At(template, path) is null)
                return new(null, "", $"There is no segment {number} to repeat.");
            paths.Add(path);
        }

        if (SegmentPath.List(paths[0]) != SegmentPath.List(paths[1]))
            return new(null, "", $"Segments {first} and {last} do not stand in one group, so they cannot be repeated together.");
        var times = said.Groups["times"].Value.ToLowerInvariant() switch
        {
            "" or "once" => 1,
            "twice" => 2,
            var many => int.Parse(many.Split(' ')[0], CultureInfo.InvariantCulture),
        };
        var name = said.Groups["name"].Value.Trim();
        return new(SegmentEdits.Repeat(template, paths, times, name), $"{first} to {last} {SegmentWords.Times(times)}", null);
    }

    private static string? Path(string number)
    {
        var indexes = number.Split('.').Select(n => int.Parse(n, CultureInfo.InvariantCulture) - 1).ToList();
        return indexes.TrueForAll(i => i >= 0) ? SegmentPath.Of(indexes) : null;
    }

    [GeneratedRegex(
        @"^\s*(?:repeat|group)\s+(?<first>\d{1,4}(?:\.\d{1,4})*)(?:\s*(?:to|-|–)\s*(?<last>\d{1,4}(?:\.\d{1,4})*))?"
            + @"(?:,?\s+(?<times>once|twice|\d{1,4}\s+times))?(?:\s+as\s+(?<name>.+?))?\s*$",
        RegexOptions.IgnoreCase
    )]
    private static partial Regex Repetition();
}
