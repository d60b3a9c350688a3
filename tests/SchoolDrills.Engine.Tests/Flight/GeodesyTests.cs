using SchoolDrills.Engine.Flight;
using Xunit;

namespace SchoolDrills.Engine.Tests.Flight;

public sealed class GeodesyTests
{
    /// <summary>Source: first line of C. Karney's GeodTest set, and lines confirmed with GeographicLib's GeodSolve 2.1.2.</summary>
    [Theory]
    [InlineData(36.530042355041, 0, -48.164270779097768864, 5.762344694676510456, 176.125875162171, 175.334308316285, 9398502.0434687)]
    [InlineData(35.60777, -139.44815, -11.17491, -69.95921, 111.098748429560, 129.289270889709, 8935244.5604818)]
    [InlineData(55.52454, 106.05087, 77.03196, 197.18234, 22.020059880983, 109.112041110672, 4105086.1713924)]
    [InlineData(50, 0, 51, 0, 360, 360, 111238.681)]
    [InlineData(50, 0, 50, 1, 89.616974, 90.383026, 71695.220)]
    public void Published_lines_are_met(double lat1, double lon1, double lat2, double lon2, double azimuth1, double azimuth2, double metres)
    {
        var line = Geodesy.Between(lat1, lon1, lat2, lon2)!;
        Assert.Equal(metres, line.DistanceM, 0.001);
        Assert.Equal(azimuth1, line.StartAzimuthDeg, 1e-6);
        Assert.Equal(azimuth2, line.EndAzimuthDeg, 1e-6);
        var (lat, lon) = Geodesy.Destination(lat1, lon1, azimuth1, metres);
        Assert.Equal(lat2, lat, 2e-8);
        Assert.Equal(0, Angles.DifferenceDeg(lon, lon2), 3e-8);
    }

    /// <summary>
    /// Source: Geodetic Datum of Australia technical manual, Flinders Peak to Buninyong: 54,972.271 m, 306°52′05.37″. It is given on
    /// GRS80, whose flattening differs from WGS 84's in the ninth place: 0.1 mm here.
    /// </summary>
    [Fact]
    public void The_worked_example_of_the_surveyors_is_met()
    {
        var line = Geodesy.Between(Dms(-37, 57, 3.72030), Dms(144, 25, 29.52440), Dms(-37, 39, 10.15610), Dms(143, 55, 35.38390))!;
        Assert.Equal(54972.271, line.DistanceM, 0.001);
        Assert.Equal(306 + (52 / 60.0) + (5.37 / 3600), line.StartAzimuthDeg, 0.01 / 3600);
        Assert.Equal(127 + (10 / 60.0) + (25.07 / 3600), Angles.NormalizeDeg(line.EndAzimuthDeg + 180), 0.01 / 3600);
    }

    /// <summary>Source: near-antipodal line of GeographicLib's documentation, 19,936,288.579 m, which Vincenty's series cannot reach.</summary>
    [Fact]
    public void Almost_opposite_points_get_no_answer_rather_than_a_wrong_one() => Assert.Null(Geodesy.Between(0, 0, 0.5, 179.7));

    [Fact]
    public void A_point_is_no_distance_from_itself() => Assert.Equal(0, Geodesy.Between(-43.7, 171.9, -43.7, 171.9)!.DistanceM);

    [Fact]
    public void The_local_plane_keeps_distances_over_a_practice_area_and_comes_back_exactly()
    {
        var frame = new LocalFrame(-43.7, 171.9, 0);
        var random = new Random(19);
        foreach (var (reachM, errorM) in new[] { (10_000.0, 0.05), (200_000.0, 40.0) })
        {
            for (var i = 0; i < 100; i++)
            {
                var (lat, lon) = Geodesy.Destination(-43.7, 171.9, 360 * random.NextDouble(), reachM);
                var (east, north, up) = frame.ToLocal(lat, lon, 0);
                Assert.Equal(reachM, Math.Sqrt((east * east) + (north * north)), errorM);
                var back = frame.ToGeodetic(east, north, up);
                Assert.Equal(lat, back.LatDeg, 1e-9);
                Assert.Equal(lon, back.LonDeg, 1e-9);
                Assert.Equal(0, back.HeightM, 1e-3);
            }
        }
    }

    private static double Dms(int degrees, int minutes, double seconds) => Math.Sign(degrees) * (Math.Abs(degrees) + (minutes / 60.0) + (seconds / 3600));
}
