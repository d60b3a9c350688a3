using SchoolDrills.Engine.InFlight;
using Xunit;

namespace SchoolDrills.Engine.Tests.InFlight;

/// <summary>Expected values by hand.</summary>
public class DeviceClockTests
{
    private static readonly DateTimeOffset Noon = new(2026, 11, 28, 12, 0, 0, TimeSpan.Zero);

    [Theory]
    [InlineData(40, 40)]
    [InlineData(-40, -40)]
    [InlineData(2, 0)]
    [InlineData(-1.9, 0)]
    public void Two_seconds_on_the_way_say_nothing_of_a_clock(double sentMinusArrivedS, double aheadS) =>
        Assert.Equal(aheadS, DeviceClock.AheadOnArrivalS(sentMinusArrivedS));

    [Theory]
    [InlineData(40, -140, 40)]
    [InlineData(-140, 40, 40)]
    [InlineData(40, 41.5, 40)]
    public void Of_two_arrivals_the_one_that_was_delayed_less_counts(double knownS, double newS, double countsS) =>
        Assert.Equal(countsS, DeviceClock.LessDelayedS(knownS, newS));

    [Fact]
    public void A_time_noted_40_s_ahead_is_set_back_to_the_millisecond()
    {
        Assert.Equal(Noon, DeviceClock.Corrected(Noon.AddSeconds(40), 40));
        Assert.Equal(Noon.AddMilliseconds(-1500), DeviceClock.Corrected(Noon.AddTicks(4000), 1.5));
    }
}
