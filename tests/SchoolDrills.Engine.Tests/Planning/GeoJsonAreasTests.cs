using System.Text.Json;
using SchoolDrills.Engine.Planning;
using Xunit;

namespace SchoolDrills.Engine.Tests.Planning;

/// <summary>GeoJSON is RFC 7946: positions are longitude, latitude; the first of a ring is repeated at its end.</summary>
public sealed class GeoJsonAreasTests
{
    private const string Ring = "[[171.7,-43.8],[172.1,-43.8],[172.1,-43.6],[171.7,-43.6],[171.7,-43.8]]";

    private static AreaReading Read(string json)
    {
        using var document = JsonDocument.Parse(json);
        return GeoJsonAreas.Read(document.RootElement);
    }

    private static string Feature(string geometry, string properties = "{}") =>
        $$"""{"type":"Feature","properties":{{properties}},"geometry":{{geometry}}}""";

    private static string Polygon(string ring = Ring) => $$"""{"type":"Polygon","coordinates":[{{ring}}]}""";

    [Fact]
    public void A_collection_gives_its_areas_with_name_floor_and_ceiling()
    {
        var read = Read(
            $$"""
            {"type":"FeatureCollection","features":[
              {{Feature(Polygon(), """{"name":" Plains West ","floorFt":2500,"ceilingFt":5000}""")}},
              {{Feature(Polygon(), "null")}}]}
            """
        );

        Assert.Empty(read.Problems);
        Assert.Equal(2, read.Areas.Count);
        Assert.Equal(("Plains West", 2500.0, 5000.0), (read.Areas[0].Name, read.Areas[0].FloorFt, read.Areas[0].CeilingFt));
        Assert.Equal([new(-43.8, 171.7), new(-43.8, 172.1), new(-43.6, 172.1), new(-43.6, 171.7)], read.Areas[0].Corners);
        Assert.Equal((null, null, null), (read.Areas[1].Name, read.Areas[1].FloorFt, read.Areas[1].CeilingFt));
    }

    [Theory]
    [InlineData("""{"type":"Topology"}""", "This is no GeoJSON Feature, FeatureCollection or Polygon.")]
    [InlineData("[]", "This is no GeoJSON Feature, FeatureCollection or Polygon.")]
    [InlineData("""{"type":"FeatureCollection","features":[]}""", "The file has 0 features: 1 to 50 areas are read at once.")]
    [InlineData("""{"type":"FeatureCollection"}""", "The FeatureCollection has no features.")]
    [InlineData("""{"type":"Feature","properties":{}}""", "The feature is no GeoJSON Feature with a geometry.")]
    [InlineData(
        """{"type":"Feature","properties":{"name":"Spot"},"geometry":{"type":"Point","coordinates":[1,2]}}""",
        "The feature (Spot) is a Point: an area is a Polygon."
    )]
    [InlineData("""{"type":"Polygon","coordinates":[]}""", "The polygon has no coordinates.")]
    [InlineData(
        """{"type":"Polygon","coordinates":[[[-43.8,171.7],[-43.6,171.7],[-43.6,172.1]]]}""",
        "The polygon, corner 1: longitude -43.8, latitude 171.7 is no place; longitude comes first."
    )]
    [InlineData(
        """{"type":"Polygon","coordinates":[[[1,2],["a",3],[2,3]]]}""",
        "The polygon, corner 2: a corner is [longitude, latitude]."
    )]
    [InlineData("""{"type":"Polygon","coordinates":[[[1,2],[3,4]]]}""", "The polygon: the area needs 3 to 100 corners.")]
    [InlineData("""{"type":"Polygon","coordinates":[[[0,0],[1,1],[1,0],[0,1]]]}""", "The polygon: the area's boundary crosses itself.")]
    [InlineData(
        """{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1]],[[0.1,0.1],[0.2,0.1],[0.2,0.2]]]}""",
        "The polygon has a hole in it: an area is one boundary; draw it around the hole."
    )]
    public void What_is_no_area_is_refused_with_its_place_in_the_file(string json, string problem)
    {
        var read = Read(json);

        Assert.Equal([problem], read.Problems);
        Assert.Empty(read.Areas);
    }

    [Fact]
    public void One_wrong_area_refuses_the_whole_file_and_is_named()
    {
        var read = Read(
            $$"""{"type":"FeatureCollection","features":[{{Feature(Polygon())}},{{Feature(Polygon("[[1,2]]"), """{"name":"Half"}""")}}]}"""
        );

        Assert.Equal(["Feature 2 (Half): the area needs 3 to 100 corners."], read.Problems);
        Assert.Empty(read.Areas);
    }

    /// <summary>Any JSON is answered: with areas that can be planned in, or with problems.</summary>
    [Fact]
    public void Damaged_files_give_areas_that_hold_or_problems()
    {
        var random = new Random(7946);
        var good = $$"""{"type":"FeatureCollection","features":[{{Feature(Polygon(), """{"name":"A","floorFt":2500}""")}}]}""";
        string[] pieces = ["null", "1e400", "\"x\"", "[]", "{}", "-1", "true", "[[[[]]]]"];
        for (var n = 0; n < 5000; n++)
        {
            // One value of the file, or a piece of it, is another.
            var at = random.Next(good.Length);
            var damaged = good[..at] + pieces[random.Next(pieces.Length)] + good[Math.Min(good.Length, at + random.Next(0, 9))..];
            AreaReading read;
            try
            {
                read = Read(damaged);
            }
            catch (JsonException)
            {
                continue;
            }

            Assert.NotEqual(read.Areas.Count == 0, read.Problems.Count == 0);
            Assert.All(read.Areas, a => Assert.Empty(new PlanConditions(Area: a.Corners).Problems()));
        }
    }
}
