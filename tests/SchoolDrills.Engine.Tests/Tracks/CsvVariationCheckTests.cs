using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Tests.Reconstruction;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Recorded variation that counts east or west as positive, within the models' years and outside them.</summary>
public class CsvVariationCheckTests
{
    private static readonly DateTimeOffset Before = new(1997, 5, 17, 1, 30, 0, TimeSpan.Zero);
    private static readonly DateTimeOffset After = new(2034, 5, 17, 1, 30, 0, TimeSpan.Zero);

    private static LoggedFlight Box(double latDeg, double lonDeg) => new(latDeg, lonDeg, 15, 10, 100, 190, 280, 10);

    private static LoggedFlight BoxAt(DateTimeOffset start, double declinationDeg) =>
        new(declinationDeg > 0 ? -43.73 : 44.5, 0, 15, 10, 100, 190, 280, 10) { StartUtc = start, DeclinationDeg = declinationDeg };

    /// <summary>24° east in the south, 14° west and 3° east in the north.</summary>
    [Theory]
    [InlineData(-43.73, 171.9)]
    [InlineData(44.5, -69.0)]
    [InlineData(41.5, -99.5)]
    public void Within_the_models_years_they_tell_the_sign(double latDeg, double lonDeg)
    {
        var flight = Box(latDeg, lonDeg);
        var east = Recording.GoodText(flight.Csv(("MagVar", _ => flight.DeclinationDeg)));
        var west = Recording.GoodText(flight.Csv(("MagVar", _ => -flight.DeclinationDeg)));
        Assert.All(east.MagneticVariationDeg!, v => Assert.Equal(flight.DeclinationDeg, v, 0.06));
        Assert.Equal(east.MagneticVariationDeg!, west.MagneticVariationDeg!);
        Assert.Empty(east.Warnings);
        Assert.Contains("counts variation to the west as positive", Assert.Single(west.Warnings));
    }

    [Fact]
    public void Within_the_models_years_a_variation_unlike_theirs_is_left_out()
    {
        var track = Recording.GoodText(Box(-43.73, 171.9).Csv(("MagVar", _ => 0)));
        Assert.Null(track.MagneticVariationDeg);
        Assert.Null(track.Header!.Columns[3].TakenAs);
        Assert.Contains("left out", Assert.Single(track.Warnings));
    }

    [Theory]
    [InlineData("magnetic heading")]
    [InlineData("heading")]
    [InlineData("both headings")]
    [InlineData("magnetic track")]
    public void Outside_them_headings_and_tracks_tell_the_sign(string with)
    {
        foreach (var start in new[] { Before, After })
        {
            foreach (var (declinationDeg, sign) in new[] { (21.5, 1), (21.5, -1), (-17.2, 1), (-17.2, -1), (4, 1), (4, -1) })
            {
                var flight = BoxAt(start, declinationDeg);
                (string, Func<LoggedFlight.Moment, double>)[] columns = with switch
                {
                    "both headings" =>
                    [
                        ("heading true", m => m.HeadingTrueDeg),
                        ("heading magnetic", m => flight.MagneticDeg(m.HeadingTrueDeg)),
                    ],
                    "magnetic track" => [("TRK", m => flight.MagneticDeg(m.CourseTrueDeg))],
                    _ => [(with, m => flight.MagneticDeg(m.HeadingTrueDeg))],
                };
                var track = Recording.GoodText(flight.Csv([("variation", _ => sign * declinationDeg), .. columns]));
                Assert.All(track.MagneticVariationDeg!, v => Assert.Equal(declinationDeg, v, 0.06));
                var decision = $"column \"variation\": it counts {(sign > 0 ? "east" : "west")} as positive";
                Assert.Contains(track.Warnings, w => w.Contains(decision, StringComparison.Ordinal));
                // North with 15 kt from the west at 90 kt.
                if (with == "magnetic track")
                    Assert.Equal(10 + 9.0, track.CourseTrueDeg![5], 0.5);
            }
        }
    }

    [Theory]
    [InlineData("no other column")]
    [InlineData("a true track")]
    [InlineData("two directions")]
    [InlineData("a small variation")]
    [InlineData("another variation")]
    public void Where_nothing_tells_the_sign_the_column_is_left_out(string how)
    {
        var declinationDeg = how == "a small variation" ? 0.6 : 12.0;
        var headings = how == "two directions" ? new[] { 10.0, 190 } : [10, 100, 190, 280, 10];
        var flight = new LoggedFlight(44.5, 0, 15, headings) { StartUtc = After, DeclinationDeg = declinationDeg };
        (string, Func<LoggedFlight.Moment, double>)[] columns = how switch
        {
            "no other column" => [],
            "a true track" => [("track", m => m.CourseTrueDeg)],
            _ => [("magnetic heading", m => flight.MagneticDeg(m.HeadingTrueDeg))],
        };
        var variationDeg = how == "another variation" ? 20 : declinationDeg;
        var track = Recording.GoodText(flight.Csv([("MagVar", _ => variationDeg), .. columns]));
        Assert.Null(track.MagneticVariationDeg);
        Assert.Contains("set its unit", Assert.Single(track.Warnings));
        var chosen = new TrackReadOptions
        {
            ColumnMapping = new Dictionary<string, ColumnChoice> { ["magneticVariationDeg"] = new("MagVar", "° west") },
        };
        Assert.Equal(
            -variationDeg,
            Recording.GoodText(flight.Csv([("MagVar", _ => variationDeg), .. columns]), chosen).MagneticVariationDeg![5]
        );
    }

    [Fact]
    public void Outside_the_models_years_wind_and_heading_are_solved_with_the_recorded_variation()
    {
        var flight = BoxAt(After, -17.2);
        FlightState State(params (string, Func<LoggedFlight.Moment, double>)[] variation)
        {
            (string, Func<LoggedFlight.Moment, double>)[] air =
            [
                ("magnetic heading", m => flight.MagneticDeg(m.HeadingTrueDeg)),
                ("TAS", _ => 90),
                ("altitude ft", m => m.AltitudeFt),
            ];
            return SyntheticFlight.Reconstruct(Recording.GoodText(flight.Csv([.. air, .. variation])));
        }

        var state = State(("MagVar", _ => 17.2));
        Assert.Equal(-17.2, state.DeclinationDeg, 0.06);
        Assert.Equal(WindSource.AirData, state.Wind.Source);
        Assert.Equal(15, state.Wind.At(2000).EastKt, 0.5);
        Assert.Equal(0, state.Wind.At(2000).NorthKt, 0.5);
        // Without a variation the magnetic heading shows no wind, but the airspeed on different tracks does.
        var without = State();
        Assert.Equal(double.NaN, without.DeclinationDeg);
        Assert.Equal(WindSource.Turns, without.Wind.Source);
        Assert.Equal(15, without.Wind.At(2000).EastKt, 1.5);
    }
}
