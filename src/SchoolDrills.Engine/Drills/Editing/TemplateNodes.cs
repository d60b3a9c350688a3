using System.Text.Json;
using System.Text.Json.Nodes;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>Templates as trees of JSON, so that comparing and merging need no list of members.</summary>
internal static class TemplateNodes
{
    /// <summary>A template as a tree. The version is left out: it says which template this is, not what is in it.</summary>
    public static JsonObject Of(DrillTemplate template) =>
        JsonSerializer.SerializeToNode(template with { Version = 0 }, EngineJson.Default.DrillTemplate)!.AsObject();

    /// <summary>The template of a tree.</summary>
    public static DrillTemplate Template(JsonNode node) => node.Deserialize(EngineJson.Default.DrillTemplate)!;

    /// <summary>The segment of a tree.</summary>
    public static Segment Segment(JsonNode node) => node.Deserialize(EngineJson.Default.Segment)!;

    /// <summary>True where two templates say the same, whatever their versions.</summary>
    public static bool Same(JsonNode? a, JsonNode? b) => JsonNode.DeepEquals(a, b);
}
