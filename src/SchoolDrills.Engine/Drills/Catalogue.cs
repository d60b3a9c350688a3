using System.Text.Json;
using System.Text.Json.Serialization.Metadata;

namespace SchoolDrills.Engine.Drills;

/// <summary>The drills, tolerance standards and aircraft profiles that come with the engine, as a fresh school receives them.</summary>
public static class Catalogue
{
    /// <summary>Every drill template, by slug.</summary>
    public static IReadOnlyList<DrillTemplate> Templates { get; } = Load("catalogue/", EngineJson.Default.DrillTemplate);

    /// <summary>Every tolerance standard, by slug.</summary>
    public static IReadOnlyList<ToleranceStandard> Standards { get; } = Load("standards/", EngineJson.Default.ToleranceStandard);

    /// <summary>Profiles of invented aeroplane types, by slug.</summary>
    public static IReadOnlyList<AircraftProfile> Aircraft { get; } = Load("aircraft/", EngineJson.Default.AircraftProfile);

    private static List<T> Load<T>(string prefix, JsonTypeInfo<T> type)
    {
        var assembly = typeof(Catalogue).Assembly;
        return
        [
            .. assembly
                .GetManifestResourceNames()
                .Where(n => n.StartsWith(prefix, StringComparison.Ordinal))
                .Order(StringComparer.Ordinal)
                .Select(name =>
                {
                    using var stream = assembly.GetManifestResourceStream(name)!;
                    return JsonSerializer.Deserialize(stream, type) ?? throw new InvalidDataException($"{name} is empty.");
                }),
        ];
    }
}
