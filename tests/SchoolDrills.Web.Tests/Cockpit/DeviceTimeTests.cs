extern alias cockpit;

using cockpit::SchoolDrills.Cockpit.Flying;

namespace SchoolDrills.Web.Tests.Cockpit;

public class DeviceTimeTests
{
    private static readonly DateTimeOffset Opened = new(2026, 3, 1, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void A_clock_that_is_set_in_the_air_moves_nothing()
    {
        var clock = new Clock(Opened);
        var time = new DeviceTime(clock);
        clock.Pass(60);
        clock.Set(40);
        Assert.Equal(Opened.AddSeconds(60), time.UtcNow);
    }

    [Fact]
    public void After_a_sleep_that_stopped_the_counter_the_clock_is_right()
    {
        var clock = new Clock(Opened);
        var time = new DeviceTime(clock);
        clock.Pass(60);
        // Asleep for ten minutes: the clock goes on, the counter does not.
        clock.Set(600);
        time.Seen();
        Assert.Equal(Opened.AddSeconds(660), time.UtcNow);
        clock.Pass(5);
        Assert.Equal(Opened.AddSeconds(665), time.UtcNow);
    }

    [Fact]
    public void A_clock_set_back_is_not_believed()
    {
        var clock = new Clock(Opened);
        var time = new DeviceTime(clock);
        clock.Pass(60);
        clock.Set(-3600);
        time.Seen();
        Assert.Equal(Opened.AddSeconds(60), time.UtcNow);
    }

    private sealed class Clock(DateTimeOffset now) : TimeProvider
    {
        private DateTimeOffset now = now;
        private long counter = 1_000_000;

        public override long TimestampFrequency => 1000;

        public void Pass(int seconds) => (now, counter) = (now.AddSeconds(seconds), counter + (seconds * 1000));

        public void Set(int seconds) => now = now.AddSeconds(seconds);

        public override DateTimeOffset GetUtcNow() => now;

        public override long GetTimestamp() => counter;
    }
}
