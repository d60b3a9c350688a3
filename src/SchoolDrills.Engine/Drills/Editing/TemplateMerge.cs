using System.Text.Json.Nodes;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>Whose change is kept where two cannot both be.</summary>
public enum MergeSide
{
    /// <summary>One's own.</summary>
    Mine,

    /// <summary>The other person's.</summary>
    Theirs,
}

/// <summary>A part that two people changed differently.</summary>
/// <param name="Path">The place in the template both began with.</param>
/// <param name="Part">The place in words.</param>
/// <param name="Before">What both began with.</param>
/// <param name="Mine">One's own change.</param>
/// <param name="Theirs">The other person's.</param>
public sealed record MergeConflict(string Path, string Part, string Before, string Mine, string Theirs);

/// <summary>Two people's drafts made one.</summary>
/// <param name="Template">Both changes; in a part changed by both the side chosen, else the other person's.</param>
/// <param name="Conflicts">The parts changed by both, differently.</param>
public sealed record TemplateMerge(DrillTemplate Template, IReadOnlyList<MergeConflict> Conflicts)
{
    /// <summary>Merges two drafts that began with one template.</summary>
    /// <param name="before">What both began with.</param>
    /// <param name="mine">One's own draft.</param>
    /// <param name="theirs">The other person's.</param>
    /// <param name="choices">The side to take in conflicts, by path; null for none chosen yet.</param>
    public static TemplateMerge Of(
        DrillTemplate before,
        DrillTemplate mine,
        DrillTemplate theirs,
        IReadOnlyDictionary<string, MergeSide>? choices = null
    )
    {
        var merger = new Merger(choices ?? new Dictionary<string, MergeSide>());
        var merged = merger.Merge("", TemplateNodes.Of(before), TemplateNodes.Of(mine), TemplateNodes.Of(theirs));
        return new(TemplateNodes.Template(merged!), merger.Conflicts);
    }

    private sealed class Merger(IReadOnlyDictionary<string, MergeSide> choices)
    {
        public List<MergeConflict> Conflicts { get; } = [];

        public JsonNode? Merge(string path, JsonNode? before, JsonNode? mine, JsonNode? theirs)
        {
            if (TemplateNodes.Same(mine, theirs) || TemplateNodes.Same(before, theirs))
                return mine?.DeepClone();
            if (TemplateNodes.Same(before, mine))
                return theirs?.DeepClone();
            return (before, mine, theirs) switch
            {
                (JsonObject b, JsonObject m, JsonObject t) => Members(path, b, m, t),
                (JsonArray b, JsonArray m, JsonArray t) => Items(path, b, m, t),
                _ => Choose(path, before, mine, theirs),
            };
        }

        private JsonObject Members(string path, JsonObject before, JsonObject mine, JsonObject theirs)
        {
            var merged = new JsonObject();
            foreach (var name in before.Concat(mine).Concat(theirs).Select(m => m.Key).Distinct())
            {
                var value = Merge(path.Length == 0 ? name : $"{path}.{name}", before[name], mine[name], theirs[name]);
                if (value is not null)
                    merged[name] = value;
            }

            return merged;
        }

        private JsonArray Items(string path, JsonArray before, JsonArray mine, JsonArray theirs)
        {
            var (my, their) = (new Side(before, mine), new Side(before, theirs));
            var merged = new JsonArray();
            for (var i = 0; i <= before.Count; i++)
            {
                foreach (var added in my.Added[i])
                    merged.Add(added?.DeepClone());
                if (!SameItems(my.Added[i], their.Added[i]))
                {
                    foreach (var added in their.Added[i])
                        merged.Add(added?.DeepClone());
                }

                if (i == before.Count)
                    break;
                var here = SegmentPath.Of(path, i);
                var (m, t) = (my.Kept[i], their.Kept[i]);
                // Taken out by one and untouched by the other it goes; changed by the other, a person decides.
                var kept =
                    m is not null && t is not null ? Merge(here, before[i], m, t)
                    : m is null && t is null ? null
                    : TemplateNodes.Same(before[i], m ?? t) ? null
                    : Choose(here, before[i], m, t);
                if (kept is not null)
                    merged.Add(kept);
            }

            return merged;
        }

        private JsonNode? Choose(string path, JsonNode? before, JsonNode? mine, JsonNode? theirs)
        {
            Conflicts.Add(
                new(
                    path,
                    TemplatePart.Words(path),
                    TemplatePart.Value(path, before),
                    TemplatePart.Value(path, mine),
                    TemplatePart.Value(path, theirs)
                )
            );
            return (choices.TryGetValue(path, out var side) && side == MergeSide.Mine ? mine : theirs)?.DeepClone();
        }

        private static bool SameItems(List<JsonNode?> a, List<JsonNode?> b) =>
            a.Count == b.Count && a.Zip(b).All(pair => TemplateNodes.Same(pair.First, pair.Second));
    }

    /// <summary>One side's list against what it began with: what became of each item, and what was added before it.</summary>
    private sealed class Side
    {
        public Side(JsonArray before, JsonArray after)
        {
            Kept = new JsonNode?[before.Count];
            Added = [.. Enumerable.Range(0, before.Count + 1).Select(_ => new List<JsonNode?>())];
            var next = 0;
            foreach (var (from, to) in ListAlignment.Of(before, after))
            {
                if (from is { } index)
                    (Kept[index], next) = (to is { } kept ? after[kept] : null, index + 1);
                else
                    Added[next].Add(after[to!.Value]);
            }
        }

        public JsonNode?[] Kept { get; }

        public List<JsonNode?>[] Added { get; }
    }
}
