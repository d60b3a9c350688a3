using System.Text.Json;

namespace SchoolDrills.Engine.Drills;

/// <summary>The drills and tolerance standards that come with the engine, as a fresh school receives them.</summary>
public static class Catalogue
{
    private static readonly JsonSerializerOptions Strict = new(JsonSerializerDefaults.Web)
    {
        UnmappedMemberHandling = System.Text.Json.Serialization.JsonUnmappedMemberHandling.Disallow,
        AllowTrailingCommas = false,
    };

    /// <summary>Every drill template, by slug.</summary>
    public static IReadOnlyList<DrillTemplate> Templates { get; } = Load<DrillTemplate>("catalogue/");

    /// <summary>Every tolerance standard, by slug.</summary>
    public static IReadOnlyList<ToleranceStandard> Standards { get; } = Load<ToleranceStandard>("standards/");

    private static List<T> Load<T>(string prefix)
    {
        var assembly = typeof(Catalogue).Assembly;
        return [.. assembly.GetManifestResourceNames().Where(n => n.StartsWith(prefix, StringComparison.Ordinal)).Order(StringComparer.Ordinal).Select(name =>
        {
            using var stream = assembly.GetManifestResourceStream(name)!;
            return JsonSerializer.Deserialize<T>(stream, Strict) ?? throw new InvalidDataException($"{name} is empty.");
        })];
    }
}
