using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Reconstruction;

public sealed class TrackCleanerTests
{
    private static readonly Track Straight = new SyntheticFlight(0, 0).Fly(120).Record();

    [Fact]
    public void Records_out_of_order_are_sorted()
    {
        var clean = SyntheticFlight.Clean(Chosen([.. Enumerable.Range(0, 120).OrderBy(i => i * 7919 % 120)]));
        Assert.Equal(Enumerable.Range(0, 120).Select(i => (double)i), clean.TimeS);
        Assert.Equal(0, clean.Dropped);
        for (var i = 1; i < clean.Count; i++)
            Assert.Equal(48.87, clean.NorthM[i] - clean.NorthM[i - 1], 0.05);
    }

    [Fact]
    public void Of_records_with_the_same_time_the_first_in_the_file_stays()
    {
        var track = Chosen([.. Enumerable.Range(0, 60), 30, .. Enumerable.Range(59, 40)]);
        track.LatDeg[60] += 0.001;
        var clean = SyntheticFlight.Clean(track);
        Assert.Equal(99, clean.Count);
        Assert.Equal(2, clean.Dropped);
        Assert.Contains(30, clean.Kept);
        Assert.DoesNotContain(60, clean.Kept);
        Assert.DoesNotContain(61, clean.Kept);
    }

    [Fact]
    public void Time_continues_past_midnight_and_the_end_of_a_week()
    {
        var track = Straight;
        var late = With(track, timeS: Array.ConvertAll(track.TimeS, t => (7 * 86_400) - 60 + t));
        var clean = SyntheticFlight.Clean(late);
        Assert.Equal(track.Count, clean.Count);
        Assert.Empty(clean.GapsAfter);
    }

    [Theory]
    [InlineData(0.0025)]
    [InlineData(-0.5)]
    [InlineData(40)]
    public void Only_a_point_that_jumps_away_is_dropped(double byDeg)
    {
        var track = With(Straight);
        foreach (var i in (int[])[0, 40, 41, 119])
            track.LonDeg[i] += byDeg * (i == 41 ? -1 : 1);
        var clean = SyntheticFlight.Clean(track);
        Assert.Equal(4, clean.Dropped);
        Assert.Equal(Enumerable.Range(0, track.Count).Except([0, 40, 41, 119]), clean.Kept);
    }

    [Theory]
    [InlineData(1, 95)]
    [InlineData(5, 95)]
    [InlineData(10, 160)]
    [InlineData(0.1, 60)]
    public void Turning_flight_loses_nothing_at_any_sampling(double everyS, double airspeedKt)
    {
        double Airspeed(double timeS) => airspeedKt;
        var flight = new SyntheticFlight(30, 10)
            .Fly(60, trueAirspeedKt: Airspeed)
            .Turn(360, 500, Airspeed)
            .Turn(-360, -500, Airspeed)
            .Fly(60, trueAirspeedKt: Airspeed);
        var track = flight.Record(Enumerable.Range(0, (int)(flight.NowS / everyS)).Select(i => i * everyS));
        var clean = SyntheticFlight.Clean(track);
        Assert.Equal(0, clean.Dropped);
        Assert.Equal(everyS, clean.MedianIntervalS, 1e-6);
    }

    [Fact]
    public void A_few_points_that_jumped_together_are_dropped_together()
    {
        var track = With(Straight);
        for (var i = 60; i < 63; i++)
            track.LatDeg[i] += 0.01;
        Assert.Equal(Enumerable.Range(0, track.Count).Except([60, 61, 62]), SyntheticFlight.Clean(track).Kept);
    }

    [Fact]
    public void Flight_on_both_sides_of_a_gap_in_a_turn_is_kept()
    {
        var flight = new SyntheticFlight(20, 0).Fly(30).Turn(360).Fly(30);
        var track = flight.Record(Enumerable.Range(0, (int)flight.NowS).Where(t => t is < 60 or > 95).Select(t => (double)t));
        Assert.Equal(0, SyntheticFlight.Clean(track).Dropped);
    }

    [Fact]
    public void Records_without_a_position_or_time_are_dropped_and_counted()
    {
        var track = With(Straight);
        track.LatDeg[10] = double.NaN;
        track.TimeS[20] = double.NaN;
        var clean = SyntheticFlight.Clean(track);
        Assert.Equal(2, clean.Dropped);
        Assert.Equal(track.Count - 2, clean.Count);
    }

    [Fact]
    public void A_gap_is_marked_and_nothing_is_filled_in()
    {
        var clean = SyntheticFlight.Clean(Chosen([.. Enumerable.Range(0, 50), .. Enumerable.Range(80, 40)]));
        Assert.Equal([49], clean.GapsAfter);
        Assert.Equal(90, clean.Count);
        Assert.Equal(5, clean.GapS);
    }

    [Fact]
    public void The_usual_step_of_a_slow_recorder_is_no_gap()
    {
        var clean = SyntheticFlight.Clean(Chosen([.. Enumerable.Range(0, 24).Where(i => i != 7).Select(i => i * 5)]));
        Assert.Empty(clean.GapsAfter);
        Assert.Equal(20, clean.GapS);
    }

    [Theory]
    [InlineData(9, false)]
    [InlineData(10, true)]
    public void Ten_usable_samples_are_the_fewest(int count, bool usable) =>
        Assert.Equal(usable, TrackCleaner.Clean(Chosen([.. Enumerable.Range(0, count)])) is not null);

    private static Track Chosen(int[] records) =>
        new()
        {
            Format = "gpx",
            EpochUtc = Straight.EpochUtc,
            TimeS = Array.ConvertAll(records, i => Straight.TimeS[i]),
            LatDeg = Array.ConvertAll(records, i => Straight.LatDeg[i]),
            LonDeg = Array.ConvertAll(records, i => Straight.LonDeg[i]),
        };

    private static Track With(Track track, double[]? timeS = null) =>
        new()
        {
            Format = "gpx",
            EpochUtc = track.EpochUtc,
            TimeS = timeS ?? [.. track.TimeS],
            LatDeg = [.. track.LatDeg],
            LonDeg = [.. track.LonDeg],
        };
}
