using System.Text.Json.Nodes;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>
/// Which items of a list are which of another, by least change: an item kept costs nothing, one added or removed 1, one changed less than
/// both together, and the less the more of it is the same; items with nothing in common are one removed and one added.
/// </summary>
internal static class ListAlignment
{
    private const double ChangedLeast = 0.2,
        TextChanged = 1.9,
        NothingInCommon = 2.1;

    /// <summary>Pairs in order: an index of each list, or null on one side for an item added or removed.</summary>
    public static List<(int? Before, int? After)> Of(JsonArray before, JsonArray after)
    {
        var (a, b) = (Items(before), Items(after));
        var cost = new double[a.Length + 1, b.Length + 1];
        for (var i = a.Length; i >= 0; i--)
        {
            for (var j = b.Length; j >= 0; j--)
            {
                cost[i, j] =
                    i == a.Length ? b.Length - j
                    : j == b.Length ? a.Length - i
                    : Math.Min(cost[i + 1, j + 1] + Cost(a[i], b[j]), 1 + Math.Min(cost[i + 1, j], cost[i, j + 1]));
            }
        }

        var pairs = new List<(int?, int?)>();
        for (int i = 0, j = 0; i < a.Length || j < b.Length; )
        {
            if (i < a.Length && j < b.Length && cost[i, j] == cost[i + 1, j + 1] + Cost(a[i], b[j]))
                pairs.Add((i++, j++));
            else if (i < a.Length && cost[i, j] == 1 + cost[i + 1, j])
                pairs.Add((i++, null));
            else
                pairs.Add((null, j++));
        }

        return pairs;
    }

    private static Item[] Items(JsonArray list) => [.. list.Select(n => new Item(n))];

    private static double Cost(Item a, Item b)
    {
        if (a.Whole == b.Whole)
            return 0;
        var names = a.Members.Keys.Union(b.Members.Keys).ToList();
        if (names.Count == 0)
            return TextChanged;
        var other = names.Count(n => a.Members.GetValueOrDefault(n) != b.Members.GetValueOrDefault(n));
        return ChangedLeast + ((NothingInCommon - ChangedLeast) * other / names.Count);
    }

    /// <summary>An item as text, and its members that say something.</summary>
    private sealed class Item(JsonNode? node)
    {
        public string Whole { get; } = node?.ToJsonString() ?? "null";

        public Dictionary<string, string> Members { get; } =
            node is JsonObject o
                ? o.Where(m => m.Value is not (null or JsonArray { Count: 0 })).ToDictionary(m => m.Key, m => m.Value!.ToJsonString())
                : [];
    }
}
