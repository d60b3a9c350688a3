using SchoolDrills.Engine.Progress;
using Xunit;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class ShareIntervalTests
{
    /// <summary>
    /// Source: Newcombe, Statistics in Medicine 17 (1998) 857–872, table I, method 3 (score), 95 %; from memory, confirmed by hand
    /// calculation.
    /// </summary>
    [Theory]
    [InlineData(81, 263, 0.2553, 0.3662)]
    [InlineData(15, 148, 0.0624, 0.1605)]
    [InlineData(0, 20, 0.0000, 0.1611)]
    [InlineData(1, 29, 0.0061, 0.1718)]
    public void Score_intervals_of_published_proportions(double met, double of, double lo, double hi)
    {
        var interval = ShareInterval.OfSamples(met / of, of, quantile: 1.959964);
        Assert.Equal(lo, interval.Lo, 0.00005);
        Assert.Equal(hi, interval.Hi, 0.00005);
    }

    /// <summary>At a share of 1 Wilson's lower bound is n / (n + z²): 10 / 12.7055.</summary>
    [Fact]
    public void Ten_independent_samples_all_within_leave_an_interval_of_a_fifth()
    {
        var interval = ShareInterval.OfTime(1, 10 * ShareInterval.DecorrelationS);
        Assert.Equal(0.7871, interval.Lo, 0.0001);
        Assert.Equal(1, interval.Hi, 1e-12);
    }

    [Fact]
    public void A_longer_measurement_has_a_narrower_interval()
    {
        var aMinute = ShareInterval.OfTime(0.8, 60);
        var tenMinutes = ShareInterval.OfTime(0.8, 600);
        Assert.InRange(tenMinutes.Lo, aMinute.Lo, 0.8);
        Assert.InRange(tenMinutes.Hi, 0.8, aMinute.Hi);
        Assert.True(tenMinutes.Hi - tenMinutes.Lo < aMinute.Hi - aMinute.Lo);
    }

    [Theory]
    [InlineData(-0.1, 60)]
    [InlineData(double.NaN, 60)]
    [InlineData(0.5, 0)]
    public void No_interval_without_a_share_and_a_measurement(double share, double measuredS) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => ShareInterval.OfTime(share, measuredS));
}
