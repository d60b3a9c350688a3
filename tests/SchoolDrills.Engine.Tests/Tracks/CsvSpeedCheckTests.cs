using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Speeds without a unit, or without saying which; a knot is 1.852 km/h, 0.51444 m/s and 1.15078 mph.</summary>
public class CsvSpeedCheckTests
{
    private static readonly LoggedFlight Box = new(41.5, -99.5, 15, 10, 100, 190, 280, 10);

    [Theory]
    [InlineData("speed", 1, "knots")]
    [InlineData("speed", 1.852, "km/h")]
    [InlineData("speed", 1852 / 3600.0, "m/s")]
    [InlineData("speed", 1852 / 1609.344, "miles an hour")]
    [InlineData("ground speed", 1.852, "km/h")]
    [InlineData("gs", 1852 / 3600.0, "m/s")]
    [InlineData("Speed (km/h)", 1.852, "knots")]
    public void The_unit_is_told_by_the_speed_from_positions(string name, double perKt, string unit)
    {
        var track = Recording.GoodText(Box.Csv((name, m => m.GroundSpeedKt * perKt)));
        var right = Recording.GoodText(Box.Csv(("ground speed kt", m => m.GroundSpeedKt)));
        for (var i = 0; i < track.Count; i++)
            Assert.Equal(right.GroundSpeedKt![i], track.GroundSpeedKt![i], 0.2);
        Assert.Contains(unit, Assert.Single(track.Warnings));
        Assert.Empty(right.Warnings);
        Assert.Equal("groundSpeedKt", track.Header!.Columns[3].TakenAs);
    }

    [Fact]
    public void A_speed_of_the_air_is_left_out_and_asked_for()
    {
        var track = Recording.GoodText(Box.Csv(("speed", _ => 90)));
        Assert.Null(track.GroundSpeedKt);
        Assert.False(track.Columns.ContainsKey("groundSpeedKt"));
        Assert.Null(track.Header!.Columns[3].TakenAs);
        Assert.Contains("set which speed", Assert.Single(track.Warnings));
        var options = new TrackReadOptions
        {
            ColumnMapping = new Dictionary<string, ColumnChoice> { ["trueAirspeedKt"] = new("speed", "kt") },
        };
        Assert.Equal(90, Recording.GoodText(Box.Csv(("speed", _ => 90)), options).TrueAirspeedKt![0]);
    }

    [Fact]
    public void A_ground_speed_in_knots_without_a_unit_needs_no_word() =>
        Assert.Empty(Recording.GoodText(Box.Csv(("ground speed", m => m.GroundSpeedKt))).Warnings);
}
