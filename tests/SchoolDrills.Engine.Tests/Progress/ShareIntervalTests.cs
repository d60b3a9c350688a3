using MathNet.Numerics.Distributions;
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
        var interval = ShareInterval.Wilson(met / of, of, quantile: 1.959964);
        Assert.Equal(lo, interval.Lo, 0.00005);
        Assert.Equal(hi, interval.Hi, 0.00005);
    }

    /// <summary>At a share of 1 Wilson's lower bound is n / (n + z²); z of 80 % is 1.2816 in any table: 10 / 11.6424.</summary>
    [Fact]
    public void Ten_independent_samples_all_within_leave_an_interval_of_a_seventh()
    {
        var interval = ShareInterval.OfSamples(1, 10);
        Assert.Equal(0.8589, interval.Lo, 0.0001);
        Assert.Equal(1, interval.Hi, 1e-12);
    }

    [Fact]
    public void A_longer_measurement_has_a_narrower_interval()
    {
        var aMinute = ShareInterval.OfSamples(0.8, ShareInterval.Samples(60));
        var tenMinutes = ShareInterval.OfSamples(0.8, ShareInterval.Samples(600));
        Assert.InRange(tenMinutes.Lo, aMinute.Lo, 0.8);
        Assert.InRange(tenMinutes.Hi, 0.8, aMinute.Hi);
        Assert.True(tenMinutes.Hi - tenMinutes.Lo < aMinute.Hi - aMinute.Lo);
    }

    [Fact]
    public void Four_in_five_intervals_hold_the_true_share()
    {
        var random = new Random(1);
        var covered = Students.ShareOf(
            4000,
            () =>
            {
                var share = 0.3 + (0.65 * random.NextDouble());
                var samples = random.Next(8, 50);
                var interval = ShareInterval.OfSamples(Binomial.Sample(random, share, samples) / (double)samples, samples);
                return interval.Lo <= share && share <= interval.Hi;
            }
        );
        TestContext.Current.TestOutputHelper!.WriteLine($"covered {covered:0.000}");
        Assert.InRange(covered, 0.75, 0.85);
    }

    [Theory]
    [InlineData(-0.1, 4)]
    [InlineData(double.NaN, 4)]
    [InlineData(0.5, 0)]
    public void No_interval_without_a_share_and_a_measurement(double share, double samples) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => ShareInterval.OfSamples(share, samples));
}
