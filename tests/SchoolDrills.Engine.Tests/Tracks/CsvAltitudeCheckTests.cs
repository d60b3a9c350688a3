using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Altitudes without a unit; a foot is 0.3048 m. The flight climbs and descends between 1,600 and 2,600 ft.</summary>
public class CsvAltitudeCheckTests
{
    private static readonly LoggedFlight Box = new(41.5, -99.5, 15, 10, 100, 190, 280, 10, 100, 190, 280);

    private static double Feet(LoggedFlight.Moment m) => m.AltitudeFt;

    private static double Metres(LoggedFlight.Moment m) => m.AltitudeFt * 0.3048;

    private static void IsRight(Track track, double[]? altitudeFt)
    {
        var right = Recording.GoodText(Box.Csv(("altitude ft", Feet))).GpsAltitudeFt!;
        for (var i = 0; i < track.Count; i++)
            Assert.Equal(right[i], altitudeFt![i], 0.3);
    }

    [Theory]
    [InlineData("altitude")]
    [InlineData("alt")]
    [InlineData("ele")]
    [InlineData("height")]
    public void The_vertical_speed_tells(string name)
    {
        var metres = Recording.GoodText(Box.Csv((name, Metres), ("vertical speed fpm", m => m.VerticalSpeedFpm)));
        IsRight(metres, metres.GpsAltitudeFt);
        Assert.Contains("taken as metres, because it changes as the vertical speed says", Assert.Single(metres.Warnings));
        var feet = Recording.GoodText(Box.Csv((name, Feet), ("vertical speed fpm", m => m.VerticalSpeedFpm)));
        IsRight(feet, feet.GpsAltitudeFt);
        Assert.Contains("taken as feet, because it changes as the vertical speed says", Assert.Single(feet.Warnings));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_vertical_speed_without_a_unit_is_told_by_the_altitude(bool metres)
    {
        // 1 ft/min is 0.3048 m in 60 s.
        var altitude = metres ? (Func<LoggedFlight.Moment, double>)Metres : Feet;
        var track = Recording.GoodText(Box.Csv(("alt", altitude), ("vario", m => m.VerticalSpeedFpm * 0.3048 / 60)));
        IsRight(track, track.GpsAltitudeFt);
        Assert.Equal(600, track.VerticalSpeedFpm!.Max(), 15.0);
        Assert.Equal(2, track.Warnings.Count);
        Assert.Contains("taken as metres a second", track.Warnings[0]);
        var right = Recording.GoodText(Box.Csv(("alt ft", Feet), ("vertical speed", m => m.VerticalSpeedFpm)));
        Assert.Equal(600, right.VerticalSpeedFpm!.Max());
        Assert.Empty(right.Warnings);
    }

    [Theory]
    [InlineData("baro alt ft")]
    [InlineData("pressure altitude (m)")]
    public void Another_altitude_with_a_unit_tells(string other)
    {
        Func<LoggedFlight.Moment, double> value = other.EndsWith("ft", StringComparison.Ordinal) ? m => Feet(m) + 150 : m => Metres(m) + 45;
        var metres = Recording.GoodText(Box.Csv(("altitude", Metres), (other, value)));
        IsRight(metres, metres.GpsAltitudeFt);
        Assert.Contains($"taken as metres, because it goes so with column \"{other}\"", Assert.Single(metres.Warnings));
        var feet = Recording.GoodText(Box.Csv(("ele", Feet), (other, value)));
        IsRight(feet, feet.GpsAltitudeFt);
        Assert.Contains($"taken as feet, because it goes so with column \"{other}\"", Assert.Single(feet.Warnings));
    }

    [Fact]
    public void Of_two_without_a_unit_the_one_that_changes_less_is_in_metres()
    {
        var track = Recording.GoodText(Box.Csv(("gps altitude", Metres), ("baro altitude", Feet)));
        IsRight(track, track.GpsAltitudeFt);
        IsRight(track, track.IndicatedAltitudeFt);
        Assert.Equal(2, track.Warnings.Count);
        track = Recording.GoodText(Box.Csv(("gps altitude", Feet), ("baro altitude", Metres)));
        IsRight(track, track.GpsAltitudeFt);
        IsRight(track, track.IndicatedAltitudeFt);
    }

    [Theory]
    [InlineData("ele", true)]
    [InlineData("Elevation", true)]
    [InlineData("height", true)]
    [InlineData("altitude", false)]
    [InlineData("GPS Alt", false)]
    public void Where_nothing_tells_the_name_does_and_the_way_to_say_otherwise_works(string name, bool inMetres)
    {
        var track = Recording.GoodText(Box.Csv((name, inMetres ? Metres : Feet)));
        IsRight(track, track.GpsAltitudeFt);
        var warning = Assert.Single(track.Warnings);
        Assert.Contains($"\"{name}\"", warning);
        Assert.Contains($"taken as {(inMetres ? "metres" : "feet")}", warning);
        Assert.Contains($"set the unit of gpsAltitudeFt to {(inMetres ? "ft" : "m")}.", warning);
        var options = new TrackReadOptions
        {
            ColumnMapping = new Dictionary<string, ColumnChoice> { ["gpsAltitudeFt"] = new(name, inMetres ? "ft" : "m") },
        };
        var other = Recording.GoodText(Box.Csv((name, inMetres ? Feet : Metres)), options);
        IsRight(other, other.GpsAltitudeFt);
        Assert.StartsWith("Columns were set by hand", Assert.Single(other.Warnings));
    }

    [Fact]
    public void A_flight_level_is_hundreds_of_feet_whatever_the_header_leaves_open() =>
        Assert.Equal(
            9500,
            Recording.GoodText("time,lat,lon,pressure altitude\n2026-01-17T17:30:00Z,41.5,-99.5,FL095\n").PressureAltitudeFt![0]
        );
}
