using System.Globalization;
using System.Text.Json;

namespace SchoolDrills.Engine.Planning;

/// <summary>A practice area as a file gives it.</summary>
/// <param name="Name">Its name; null where the file has none.</param>
/// <param name="FloorFt">Lowest indicated altitude to fly at, feet; null where the file has none.</param>
/// <param name="CeilingFt">Highest indicated altitude to fly at, feet; null where the file has none.</param>
/// <param name="Corners">The outer boundary, the first corner not repeated.</param>
public sealed record ReadArea(string? Name, double? FloorFt, double? CeilingFt, IReadOnlyList<LatLon> Corners);

/// <summary>The areas of a file, or why it cannot be used: one sentence each, with its place in the file.</summary>
/// <param name="Areas">The areas in their order; empty where there are problems.</param>
/// <param name="Problems">Empty when all of it was read.</param>
public sealed record AreaReading(IReadOnlyList<ReadArea> Areas, IReadOnlyList<string> Problems);

/// <summary>
/// Reads practice areas from GeoJSON (RFC 7946): a Feature or a FeatureCollection of polygons with <c>name</c>, <c>floorFt</c> and
/// <c>ceilingFt</c> among their properties, or a bare Polygon. All of a file or nothing is read.
/// </summary>
public static class GeoJsonAreas
{
    /// <summary>Reads a file.</summary>
    /// <param name="json">The GeoJSON.</param>
    public static AreaReading Read(JsonElement json)
    {
        var (areas, problems) = (new List<ReadArea>(), new List<string>());
        switch (TypeOf(json))
        {
            case "FeatureCollection":
                if (!json.TryGetProperty("features", out var features) || features.ValueKind != JsonValueKind.Array)
                {
                    problems.Add("The FeatureCollection has no features.");
                }
                else if (features.GetArrayLength() is var count and (0 or > PlanModel.MostAreas))
                {
                    problems.Add($"The file has {count} features: 1 to {PlanModel.MostAreas} areas are read at once.");
                }
                else
                {
                    foreach (var (feature, number) in features.EnumerateArray().Select((f, i) => (f, i + 1)))
                        Feature(feature, $"Feature {number.ToString(CultureInfo.InvariantCulture)}", areas, problems);
                }

                break;
            case "Feature":
                Feature(json, "The feature", areas, problems);
                break;
            case "Polygon":
                Polygon(json, "The polygon", default, areas, problems);
                break;
            default:
                problems.Add("This is no GeoJSON Feature, FeatureCollection or Polygon.");
                break;
        }

        return new(problems.Count == 0 ? areas : [], problems);
    }

    private static void Feature(JsonElement feature, string where, List<ReadArea> areas, List<string> problems)
    {
        if (TypeOf(feature) != "Feature" || !feature.TryGetProperty("geometry", out var geometry))
        {
            problems.Add($"{where} is no GeoJSON Feature with a geometry.");
            return;
        }

        var properties = feature.TryGetProperty("properties", out var p) ? p : default;
        var named = Text(properties, "name") is { } name ? $"{where} ({Shown(name)})" : where;
        if (TypeOf(geometry) is not "Polygon" and var type)
            problems.Add($"{named} is a {type ?? "geometry without a type"}: an area is a Polygon.");
        else
            Polygon(geometry, named, properties, areas, problems);
    }

    private static void Polygon(JsonElement polygon, string where, JsonElement properties, List<ReadArea> areas, List<string> problems)
    {
        if (
            !polygon.TryGetProperty("coordinates", out var rings)
            || rings.ValueKind != JsonValueKind.Array
            || rings.GetArrayLength() == 0
            || rings[0].ValueKind != JsonValueKind.Array
        )
        {
            problems.Add($"{where} has no coordinates.");
            return;
        }

        if (rings.GetArrayLength() > 1)
        {
            problems.Add($"{where} has a hole in it: an area is one boundary; draw it around the hole.");
            return;
        }

        var corners = new List<LatLon>();
        foreach (var (corner, number) in rings[0].EnumerateArray().Select((c, i) => (c, i + 1)))
        {
            if (
                corner.ValueKind != JsonValueKind.Array
                || corner.GetArrayLength() < 2
                || Number(corner[0]) is not { } lonDeg
                || Number(corner[1]) is not { } latDeg
            )
            {
                problems.Add($"{where}, corner {number}: a corner is [longitude, latitude].");
                return;
            }

            if (Math.Abs(latDeg) > 89 || Math.Abs(lonDeg) > 180)
            {
                problems.Add(
                    $"{where}, corner {number}: longitude {lonDeg:0.####}, latitude {latDeg:0.####} is no place; longitude comes first."
                );
                return;
            }

            corners.Add(new(latDeg, lonDeg));
        }

        if (corners.Count > 1 && corners[0] == corners[^1])
            corners.RemoveAt(corners.Count - 1);
        if (PracticeArea.From(corners).Problem is { } problem)
            problems.Add($"{where}: {char.ToLowerInvariant(problem[0])}{problem[1..]}");
        else
            areas.Add(new(Text(properties, "name"), Number(properties, "floorFt"), Number(properties, "ceilingFt"), corners));
    }

    private static string? TypeOf(JsonElement element) => Text(element, "type");

    private static string? Text(JsonElement element, string name) =>
        element.ValueKind == JsonValueKind.Object
        && element.TryGetProperty(name, out var value)
        && value.ValueKind == JsonValueKind.String
        && value.GetString() is { } text
        && !string.IsNullOrWhiteSpace(text)
            ? text.Trim()
            : null;

    private static double? Number(JsonElement element, string name) =>
        element.ValueKind == JsonValueKind.Object && element.TryGetProperty(name, out var value) ? Number(value) : null;

    private static double? Number(JsonElement value) =>
        value.ValueKind == JsonValueKind.Number && value.TryGetDouble(out var number) && double.IsFinite(number) ? number : null;

    private static string Shown(string name) => name.Length > 40 ? name[..40] + "…" : name;
}
