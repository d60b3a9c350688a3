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

    [Fact]
    public void Three_attempts_show_no_trend() => Assert.Null(Trend.PerAttempt([0.5, 0.6, 0.7]));

    [Fact]
    public void Steady_gain_of_five_points_an_attempt() => Assert.Equal(0.05, Trend.PerAttempt([0.70, 0.75, 0.80, 0.85])!.Value, 1e-12);

    /// <summary>Slopes of the ten pairs in order: −0.60, −0.275, six of 0.05, 0.375, 0.70: the median is 0.05.</summary>
    [Fact]
    public void One_bad_day_does_not_reverse_a_trend() =>
        Assert.Equal(0.05, Trend.PerAttempt([0.60, 0.65, 0.05, 0.75, 0.80])!.Value, 1e-12);

    [Fact]
    public void Points_at_one_place_have_no_slope() => Assert.True(double.IsNaN(Trend.Slope([2, 2], [1, 3])));
}
