using System.Globalization;
using System.Text;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Logs whose clock column repeats; 0.0005 degrees of latitude in a second are 108 kt.</summary>
public class SharedTimesTests
{
    /// <summary>A log with these seconds, one sample for each second in truth, in a circle or, halted, on one spot.</summary>
    private static Track Log(IEnumerable<int> seconds, double stepDeg = 0.0005)
    {
        var csv = new StringBuilder("date,utc time,lat,lon\n");
        var i = 0;
        foreach (var second in seconds)
        {
            var (sin, cos) = Math.SinCos(i++ * 3 * Math.PI / 180);
            var radiusDeg = stepDeg * 60 / Math.PI;
            var (latDeg, lonDeg) = (41.5 + radiusDeg * sin, 171 + radiusDeg * cos / Math.Cos(41.5 * Math.PI / 180));
            csv.Append(CultureInfo.InvariantCulture, $"2026-01-17,17:{second / 60:D2}:{second % 60:D2},{latDeg:F6},{lonDeg:F6}\n");
        }
        return Recording.GoodText(csv.ToString());
    }

    [Fact]
    public void Doubled_seconds_are_spread_where_positions_go_on_evenly()
    {
        var track = Log(Enumerable.Range(0, 200).Select(i => i / 2 * 2));
        Assert.Equal(Enumerable.Range(0, 200).Select(i => (double)i), track.TimeS);
        Assert.Contains("100 samples", Assert.Single(track.Warnings));
    }

    [Fact]
    public void Five_samples_a_second_with_whole_seconds_are_spread() =>
        Assert.Equal(
            Enumerable.Range(0, 100).Select(i => i / 5.0),
            Log(Enumerable.Range(0, 100).Select(i => i / 5), stepDeg: 0.0001).TimeS,
            (a, b) => Math.Abs(a - b) < 1e-6
        );

    [Fact]
    public void A_hiccup_of_the_clock_that_would_double_the_speed_stays() =>
        Assert.Equal([0, 1, 2, 2, 3, 4, 5], Log([0, 1, 2, 2, 3, 4, 5]).TimeS);

    [Fact]
    public void A_second_that_is_skipped_after_a_doubled_one_is_filled() =>
        Assert.Equal([0, 1, 2, 3, 4, 5, 6], Log([0, 1, 2, 2, 4, 5, 6]).TimeS);

    /// <summary>The third pair is too much faster than the second, though not than the last step before it.</summary>
    [Fact]
    public void A_log_is_spread_once()
    {
        double[] steps = [0, 0.9, 1.0, 1.0, 1.5, 2.0, 2.2, 2.3, 2.4, 2.4];
        var latDeg = 41.5;
        var text = new StringBuilder("time,lat,lon\n");
        for (var i = 0; i < steps.Length; i++)
            text.Append(CultureInfo.InvariantCulture, $"{1_768_671_000 + i / 2 * 2},{latDeg += 4e-4 * steps[i]:F6},171\n");
        var track = Recording.GoodText(text.ToString());
        Assert.Equal([0, 1, 2, 3, 4, 4, 6, 7, 8, 9], track.TimeS);
        Assert.Single(track.Warnings);
    }

    [Fact]
    public void Records_written_twice_and_an_aircraft_at_rest_stay_as_they_are()
    {
        var atRest = Log([0, 0, 2, 2, 4, 4], stepDeg: 0);
        Assert.Equal([0, 0, 2, 2, 4, 4], atRest.TimeS);
        Assert.Empty(atRest.Warnings);
        var twice = Recording.GoodText(
            "time,lat,lon\n" + string.Concat(Enumerable.Range(0, 20).Select(i => $"{1_768_671_000 + i / 2},41.{500 + i / 2},171\n"))
        );
        Assert.Equal(Enumerable.Range(0, 20).Select(i => (double)(i / 2)), twice.TimeS);
        Assert.Empty(twice.Warnings);
    }
}
