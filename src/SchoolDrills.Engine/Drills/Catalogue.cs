using System.Text.Json;
using System.Text.Json.Serialization.Metadata;

namespace SchoolDrills.Engine.Drills;

/// <summary>The drills and tolerance standards that come with the engine, as a fresh school receives them.</summary>
public static class Catalogue
{
    /// <summary>Every drill template, by slug.</summary>
    public static IReadOnlyList<DrillTemplate> Templates { get; } = Load("catalogue/", EngineJson.Default.DrillTemplate);

    /// <summary>Every tolerance standard, by slug.</summary>
    public static IReadOnlyList<ToleranceStandard> Standards { get; } = Load("standards/", EngineJson.Default.ToleranceStandard);

    private static List<T> Load<T>(string prefix, JsonTypeInfo<T> type)
    {
        var assembly = typeof(Catalogue).Assembly;
        return [.. assembly.GetManifestResourceNames().Where(n => n.StartsWith(prefix, StringComparison.Ordinal)).Order(StringComparer.Ordinal).Select(name =>
        {
            using var stream = assembly.GetManifestResourceStream(name)!;
            return JsonSerializer.Deserialize(stream, type) ?? throw new InvalidDataException($"{name} is empty.");
        })];
    }
}
