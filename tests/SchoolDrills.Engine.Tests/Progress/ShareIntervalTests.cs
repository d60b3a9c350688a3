using SchoolDrills.Engine.Progress;
using Xunit;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class ShareIntervalTests
{
    // R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872, table I, method 3 (score, no continuity correction), 95 %; from memory.
    [Theory]
    [InlineData(81, 263, 0.2553, 0.3662)]
    [InlineData(15, 148, 0.0624, 0.1605)]
    [InlineData(0, 20, 0.0000, 0.1611)]
    [InlineData(1, 29, 0.0061, 0.1718)]
    public void Score_intervals_agree_with_published_ones(int seen, int looks, double lo, double hi)
    {
        var interval = ShareInterval.Wilson((double)seen / looks, looks, 1.959964);
        Assert.Equal(lo, interval.Lo, 4);
        Assert.Equal(hi, interval.Hi, 4);
    }

    [Fact]
    public void A_perfect_minute_is_less_sure_than_a_perfect_quarter_of_an_hour()
    {
        var minute = ShareInterval.OfTime(1, 60);
        var quarter = ShareInterval.OfTime(1, 900);
        Assert.Equal(1, minute.Hi);
        Assert.True(minute.Lo < quarter.Lo);
        Assert.True(quarter.Lo < 1);
    }

    [Fact]
    public void A_glimpse_of_a_second_counts_as_one_look() => Assert.Equal(ShareInterval.OfTime(0.5, 15), ShareInterval.OfTime(0.5, 1));

    [Theory]
    [InlineData(-0.1)]
    [InlineData(1.1)]
    [InlineData(double.NaN)]
    public void A_share_outside_0_and_1_is_a_mistake_of_the_caller(double share) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => ShareInterval.OfTime(share, 60));
}
