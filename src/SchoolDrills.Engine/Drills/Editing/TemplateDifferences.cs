using System.Text.Json.Nodes;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>One thing in which two templates differ.</summary>
/// <param name="Path">The place, in the later template or, where it is gone from that, in the earlier.</param>
/// <param name="Sentence">What changed: "Segment 3, turn: right 90° is now right 180°."</param>
public sealed record TemplateDifference(string Path, string Sentence);

/// <summary>What changed from one template to another, in words. Versions and slugs are not compared.</summary>
public static class TemplateDifferences
{
    /// <summary>The differences in the order of the template; none where both say the same.</summary>
    /// <param name="before">The earlier template.</param>
    /// <param name="after">The later template.</param>
    public static IReadOnlyList<TemplateDifference> Between(DrillTemplate before, DrillTemplate after)
    {
        var differences = new List<TemplateDifference>();
        Compare("", TemplateNodes.Of(before with { Slug = after.Slug }), TemplateNodes.Of(after), differences);
        return differences;
    }

    private static void Compare(string path, JsonNode? before, JsonNode? after, List<TemplateDifference> differences)
    {
        if (TemplateNodes.Same(before, after))
            return;
        switch (before, after)
        {
            case (JsonObject a, JsonObject b):
                foreach (var member in a.Select(m => m.Key).Union(b.Select(m => m.Key)))
                    Compare(path.Length == 0 ? member : $"{path}.{member}", a[member], b[member], differences);
                break;
            case (JsonArray a, JsonArray b):
                CompareLists(path, a, b, differences);
                break;
            case (null, _):
                Add($"{Start(path)}: {TemplatePart.Value(path, after)}, new.");
                break;
            case (_, null):
                Add($"{Start(path)}: {TemplatePart.Value(path, before)} is taken out.");
                break;
            default:
                Add($"{Start(path)}: {TemplatePart.Value(path, before)} is now {TemplatePart.Value(path, after)}.");
                break;
        }

        void Add(string sentence) => differences.Add(new(path, sentence));
    }

    private static void CompareLists(string path, JsonArray before, JsonArray after, List<TemplateDifference> differences)
    {
        var pairs = ListAlignment.Of(before, after);
        var gone = pairs.Where(p => p.After is null).Select(p => p.Before!.Value).ToList();
        foreach (var (from, to) in pairs)
        {
            if (from is { } kept && to is { } same)
            {
                Compare(SegmentPath.Of(path, same), before[kept], after[same], differences);
            }
            else if (to is { } added)
            {
                var here = SegmentPath.Of(path, added);
                var value = TemplatePart.Value(here, after[added]);
                var moved = gone.FindIndex(g => TemplateNodes.Same(before[g], after[added]));
                differences.Add(
                    new(
                        here,
                        moved < 0
                            ? $"{Start(here)}: {value}, new."
                            : $"{Start(here)}: {value}, moved here from {SegmentPath.Number(Numbered(path, gone[moved]))}."
                    )
                );
                if (moved >= 0)
                    gone.RemoveAt(moved);
            }
        }

        foreach (var removed in gone)
        {
            var here = SegmentPath.Of(path, removed);
            differences.Add(new(here, $"{Start(here)}: {TemplatePart.Value(here, before[removed])} is taken out."));
        }
    }

    private static string Numbered(string path, int index) =>
        path.EndsWith("segments", StringComparison.Ordinal) ? SegmentPath.Of(path, index) : SegmentPath.Of("segments", index);

    private static string Start(string path)
    {
        var words = TemplatePart.Words(path);
        return char.ToUpperInvariant(words[0]) + words[1..];
    }
}
