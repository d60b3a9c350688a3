using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using SchoolDrills.Engine.Flight;
using Xunit;

namespace SchoolDrills.Engine.Tests.Flight;

public sealed class GeodesyTests
{
    private static readonly Gen<(double LatDeg, double LonDeg)> Place =
        from lat in Draw.Between(-80, 80)
        from lon in Draw.Between(-180, 180)
        select (lat, lon);

    /// <summary>Source: first line of C. Karney's GeodTest set, and lines confirmed with GeographicLib's GeodSolve 2.1.2.</summary>
    [Theory]
    [InlineData(36.530042355041, 0, -48.164270779097768864, 5.762344694676510456, 176.125875162171, 175.334308316285, 9398502.0434687)]
    [InlineData(35.60777, -139.44815, -11.17491, -69.95921, 111.098748429560, 129.289270889709, 8935244.5604818)]
    [InlineData(55.52454, 106.05087, 77.03196, 197.18234, 22.020059880983, 109.112041110672, 4105086.1713924)]
    [InlineData(50, 0, 51, 0, 360, 360, 111238.681)]
    [InlineData(50, 0, 50, 1, 89.616974, 90.383026, 71695.220)]
    [InlineData(-43.7, 171.9, -44.2, 173.1, 120.38889942014, 119.55603920255, 111198.777316)]
    [InlineData(60, 10, 61, 13.2, 56.25677849363, 59.04219868236, 208150.518204)]
    [InlineData(0, 0, 0, 179, 90, 90, 19926188.851996)]
    public void Published_lines_are_reproduced(
        double lat1,
        double lon1,
        double lat2,
        double lon2,
        double azimuth1,
        double azimuth2,
        double metres
    )
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
    public void The_worked_example_of_the_surveyors_is_reproduced()
    {
        var line = Geodesy.Between(Dms(-37, 57, 3.72030), Dms(144, 25, 29.52440), Dms(-37, 39, 10.15610), Dms(143, 55, 35.38390))!;
        Assert.Equal(54972.271, line.DistanceM, 0.001);
        Assert.Equal(306 + (52 / 60.0) + (5.37 / 3600), line.StartAzimuthDeg, 0.01 / 3600);
        Assert.Equal(127 + (10 / 60.0) + (25.07 / 3600), Angles.NormalizeDeg(line.EndAzimuthDeg + 180), 0.01 / 3600);
    }

    /// <summary>
    /// Source: near-antipodal line of 19,936,288.578965 m, azimuths 25.671872868 and 154.327085460 (GeodSolve 2.1.2): slow, but reached.
    /// </summary>
    [Fact]
    public void Points_well_short_of_opposite_still_get_the_right_answer()
    {
        var line = Geodesy.Between(0, 0, 0.5, 179.5)!;
        Assert.Equal(19936288.578965, line.DistanceM, 0.001);
        Assert.Equal(25.671872868, line.StartAzimuthDeg, 1e-6);
        Assert.Equal(154.327085460, line.EndAzimuthDeg, 1e-6);
    }

    /// <summary>
    /// Source: GeodSolve 2.1.2 has 19,944,127.421 m for the first and 20,003,931.459 m for the second, beyond the reach of Vincenty's
    /// series.
    /// </summary>
    [Theory]
    [InlineData(0, 0, 0.5, 179.7)]
    [InlineData(30, 0, -30, 180)]
    [InlineData(0, 0, 0, 180)]
    [InlineData(double.NaN, 0, 0, 1)]
    public void Almost_opposite_points_get_no_answer_rather_than_a_wrong_one(double lat1, double lon1, double lat2, double lon2) =>
        Assert.Null(Geodesy.Between(lat1, lon1, lat2, lon2));

    /// <summary>Source: GeodSolve 2.1.2, pole to pole along a meridian.</summary>
    [Fact]
    public void From_pole_to_pole_it_is_half_a_meridian()
    {
        Assert.Equal(20003931.458625, Geodesy.Between(90, 0, -90, 0)!.DistanceM, 0.001);
        Assert.Equal(-90, Geodesy.Destination(90, 0, 180, 20003931.458625).LatDeg, 1e-8);
    }

    [Fact]
    public void A_point_is_no_distance_from_itself() => Assert.Equal(0, Geodesy.Between(-43.7, 171.9, -43.7, 171.9)!.DistanceM);

    [Fact]
    public void A_latitude_beyond_the_pole_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Geodesy.Between(91, 0, 0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => Geodesy.Destination(-90.1, 0, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new LocalFrame(100, 0, 0));
    }

    [Property(MaxTest = 300, Replay = Draw.Seed)]
    public Property A_line_leads_there_and_back_and_is_the_same_in_the_mirror() =>
        Draw.Always(
            from place in Place
            from azimuth in Draw.Between(0, 360)
            from metres in Draw.Between(1, 15e6)
            select (place, azimuth, metres),
            drawn =>
            {
                var ((lat, lon), azimuth, metres) = drawn;
                var there = Geodesy.Destination(lat, lon, azimuth, metres);
                var line = Geodesy.Between(lat, lon, there.LatDeg, there.LonDeg)!;
                Assert.Equal(metres, line.DistanceM, 0.001);
                Assert.Equal(metres, Geodesy.Between(there.LatDeg, there.LonDeg, lat, lon)!.DistanceM, 0.001);
                Assert.Equal(metres, Geodesy.Between(-lat, -lon, -there.LatDeg, -there.LonDeg)!.DistanceM, 0.001);
                var back = Geodesy.Destination(there.LatDeg, there.LonDeg, line.EndAzimuthDeg + 180, metres);
                Assert.Equal(lat, back.LatDeg, 1e-8);
                Assert.Equal(0, Angles.DifferenceDeg(back.LonDeg, lon), 1e-6);
            }
        );

    [Property(MaxTest = 300, Replay = Draw.Seed)]
    public Property The_local_plane_comes_back_exactly() =>
        Draw.Always(
            from place in Place
            from east in Draw.Between(-2e5, 2e5)
            from north in Draw.Between(-2e5, 2e5)
            from up in Draw.Between(-5e3, 15e3)
            select (place, east, north, up),
            drawn =>
            {
                var ((lat, lon), east, north, up) = drawn;
                var frame = new LocalFrame(lat, lon, 120);
                var there = frame.ToGeodetic(east, north, up);
                var back = frame.ToLocal(there.LatDeg, there.LonDeg, there.HeightM);
                Assert.Equal(east, back.EastM, 1e-4);
                Assert.Equal(north, back.NorthM, 1e-4);
                Assert.Equal(up, back.UpM, 1e-4);
            }
        );

    /// <summary>
    /// Source: the geodesic itself; a tangent plane is short of it by d³/6R², 4 mm at 10 km, half a metre at 50 km and 33 m at 200 km.
    /// </summary>
    [Property(MaxTest = 300, Replay = Draw.Seed)]
    public Property The_local_plane_is_as_far_from_the_geodesic_as_it_says() =>
        Draw.Always(
            from place in Place
            from azimuth in Draw.Between(0, 360)
            from reach in Gen.Elements((10e3, 0.004), (50e3, 0.52), (200e3, 33.0))
            select (place, azimuth, reach),
            drawn =>
            {
                var ((lat, lon), azimuth, (reachM, shortM)) = drawn;
                var (thereLat, thereLon) = Geodesy.Destination(lat, lon, azimuth, reachM);
                var (east, north, _) = new LocalFrame(lat, lon, 0).ToLocal(thereLat, thereLon, 0);
                Assert.Equal(reachM - shortM, Math.Sqrt((east * east) + (north * north)), 0.0005 + (0.03 * shortM));
                Assert.Equal(0, Angles.DifferenceDeg(Units.RadToDeg(Math.Atan2(east, north)), azimuth), 1e-4);
            }
        );

    /// <summary>
    /// Source: meridians lean by the longitude between times sin lat: 50 km east at 43.7° S is 0.62° of longitude, 0.43° of lean, here to
    /// the right.
    /// </summary>
    [Fact]
    public void Fifty_kilometres_east_the_meridians_lean_by_almost_half_a_degree()
    {
        var frame = new LocalFrame(-43.7, 171.9, 0);
        var (lat, lon) = Geodesy.Destination(-43.7, 171.9, 90, 50_000);
        var here = frame.ToLocal(lat, lon, 0);
        var north = frame.ToLocal(lat + 0.001, lon, 0);
        var leanDeg = Units.RadToDeg(Math.Atan2(north.EastM - here.EastM, north.NorthM - here.NorthM));
        Assert.Equal((lon - 171.9) * Math.Sin(Units.DegToRad(43.7)), leanDeg, 0.003);
        Assert.Equal(0.43, leanDeg, 0.005);
    }

    private static double Dms(int degrees, int minutes, double seconds) =>
        Math.Sign(degrees) * (Math.Abs(degrees) + (minutes / 60.0) + (seconds / 3600));
}
