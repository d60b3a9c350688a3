using SchoolDrills.Engine.Progress;
using Xunit;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class TrendTests
{
    [Fact]
    public void Three_attempts_make_no_trend() => Assert.Null(Trend.PerAttempt([0.5, 0.6, 0.7]));

    [Fact]
    public void A_steady_gain_is_told_as_it_is() => Assert.Equal(0.05, Trend.PerAttempt([0.70, 0.75, 0.80, 0.85, 0.90])!.Value, 12);

    [Fact]
    public void One_bad_day_does_not_turn_a_gain_into_a_loss() => Assert.True(Trend.PerAttempt([0.70, 0.75, 0.80, 0.20, 0.90, 0.95]) > 0.03);

    // By hand: slopes 1, 1.5, 2, 2.67, 3.5, 3.75, 4.67, 5, 6 and 7; the median of ten is the mean of the fifth and sixth.
    [Fact]
    public void The_trend_is_the_median_of_all_slopes() => Assert.Equal(3.625, Trend.PerAttempt([0, 1, 3, 8, 15])!.Value, 12);
}
