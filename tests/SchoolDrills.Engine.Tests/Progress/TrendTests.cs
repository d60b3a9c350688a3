using MathNet.Numerics.Distributions;
using SchoolDrills.Engine.Progress;
using Xunit;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class TrendTests
{
    /// <summary>
    /// Source: numerical example of Sen, Journal of the American Statistical Association 63 (1968) 1379–1389; from memory, confirmed by
    /// hand calculation.
    /// </summary>
    [Fact]
    public void Sen_1968_example_has_a_slope_of_four() =>
        Assert.Equal(4, Trend.Slope([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78]), 1e-12);

    /// <summary>Source: Mahonian numbers, OEIS A008302, row 5; from memory, their sum is 5!.</summary>
    [Fact]
    public void Five_attempts_have_as_many_pairs_out_of_order_as_published() =>
        Assert.Equal([1, 4, 9, 15, 20, 22, 20, 15, 9, 4, 1], Trend.OutOfOrder(5));

    /// <summary>
    /// Of 120 orders 5 have fewer than two pairs out of order and 14 fewer than three; a tenth, 12, lies 7/9 between: so do the bounds,
    /// between the second and third slope from either end.
    /// </summary>
    [Fact]
    public void The_interval_of_five_attempts_lies_between_the_second_and_the_third_slope()
    {
        var interval = Trend.IntervalOf([0, 1, 2, 3, 4, 5, 6, 7, 8, 9], 5);
        Assert.Equal(1 + (7 / 9.0), interval.Lo, 1e-12);
        Assert.Equal(8 - (7 / 9.0), interval.Hi, 1e-12);
    }

    [Theory]
    [InlineData(0, "too little data: 0 of 5 attempts")]
    [InlineData(4, "too little data: 4 of 5 attempts")]
    public void Fewer_than_five_attempts_show_no_trend(int attempts, string reason) =>
        Assert.Equal(new Trend(null, null, reason), Trend.Of([.. Enumerable.Range(0, attempts).Select(i => 0.1 * i)]));

    [Fact]
    public void Steady_gain_of_five_points_an_attempt()
    {
        var trend = Trend.Of([0.70, 0.75, 0.80, 0.85, 0.90]);
        Assert.Equal(0.05, trend.PerAttempt!.Value, 1e-12);
        Assert.Null(trend.Reason);
    }

    /// <summary>Slopes of the ten pairs in order: −0.60, −0.275, six of 0.05, 0.375, 0.70: the median is 0.05.</summary>
    [Fact]
    public void One_bad_day_does_not_reverse_a_trend() =>
        Assert.Equal(0.05, Trend.Slope([0, 1, 2, 3, 4], [0.60, 0.65, 0.05, 0.75, 0.80]), 1e-12);

    [Fact]
    public void No_trend_is_claimed_where_the_interval_holds_zero()
    {
        var trend = Trend.Of([0.7, 0.9, 0.6, 0.8, 0.75]);
        Assert.Null(trend.PerAttempt);
        Assert.Equal("no clear trend", trend.Reason);
        Assert.InRange(0, trend.Interval!.Value.Lo, trend.Interval.Value.Hi);
    }

    [Fact]
    public void What_was_flown_long_before_does_not_count() =>
        Assert.Equal("no clear trend", Trend.Of([.. Enumerable.Range(0, 20).Select(i => 0.02 * i), .. Enumerable.Repeat(0.8, 30)]).Reason);

    [Theory]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(9)]
    [InlineData(15)]
    public void Four_in_five_intervals_hold_the_true_slope(int attempts)
    {
        var random = new Random(2);
        var covered = Students.ShareOf(
            2000,
            () =>
            {
                var slope = 0.1 * random.NextDouble();
                // A day in ten goes badly.
                var values = Enumerable
                    .Range(0, attempts)
                    .Select(i => (slope * i) + Normal.Sample(random, 0, 0.05) - (random.NextDouble() < 0.1 ? 0.2 : 0));
                return Trend.Of([.. values]).Interval is { } interval && interval.Lo <= slope && slope <= interval.Hi;
            }
        );
        TestContext.Current.TestOutputHelper!.WriteLine($"covered {covered:0.000}");
        Assert.InRange(covered, 0.75, 0.85);
    }

    [Fact]
    public void Points_at_one_place_have_no_slope() => Assert.True(double.IsNaN(Trend.Slope([2, 2], [1, 3])));
}
