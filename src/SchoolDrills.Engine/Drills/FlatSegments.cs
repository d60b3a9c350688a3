using System.Globalization;

namespace SchoolDrills.Engine.Drills;

/// <summary>A segment with its full name, repetitions expanded, and its place in the template's JSON.</summary>
internal readonly record struct FlatSegment(string Name, Segment Segment, string Path);

/// <summary>Expands the groups of a template.</summary>
internal static class FlatSegments
{
    /// <summary>
    /// The segments as flown. Each repetition of a named group puts its name and number before its segments' names. Groups of one name are
    /// numbered through the whole drill: two different sides, flown twice, are sides 1 to 4.
    /// </summary>
    public static List<FlatSegment> Of(DrillTemplate template)
    {
        var flat = new List<FlatSegment>();
        Expand(template.Segments, "segments", "", [], flat);
        return flat;
    }

    private static void Expand(
        IReadOnlyList<Segment> segments,
        string path,
        string prefix,
        Dictionary<string, int> flown,
        List<FlatSegment> flat
    )
    {
        var at = 0;
        foreach (var segment in segments)
        {
            var here = string.Create(CultureInfo.InvariantCulture, $"{path}[{at++}]");
            if (segment.Segments.Count == 0)
            {
                flat.Add(
                    new(
                        prefix.Length == 0 ? segment.Name
                            : segment.Name.Length == 0 ? prefix
                            : $"{prefix}: {segment.Name}",
                        segment,
                        here
                    )
                );
                continue;
            }

            for (var time = 0; time < (segment.Repeat ?? 1); time++)
                Expand(segment.Segments, $"{here}.segments", Prefix(prefix, segment.Name, flown), flown, flat);
        }
    }

    private static string Prefix(string prefix, string name, Dictionary<string, int> flown)
    {
        if (name.Length == 0)
            return prefix;
        var group = prefix.Length == 0 ? name : $"{prefix}, {name}";
        var number = flown.GetValueOrDefault(group) + 1;
        flown[group] = number;
        return string.Create(CultureInfo.InvariantCulture, $"{group} {number}");
    }
}
