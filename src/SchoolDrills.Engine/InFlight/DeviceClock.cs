namespace SchoolDrills.Engine.InFlight;

/// <summary>Sets right what a device noted by a clock of its own.</summary>
public static class DeviceClock
{
    /// <summary>What a message may take on its way, seconds: less than this says nothing of the clock.</summary>
    public const double OnTheWayS = 2;

    /// <summary>By how much a clock is ahead by when a message was sent and when it arrived, seconds; 0 where that says nothing.</summary>
    /// <param name="sentMinusArrivedS">Time of sending by the device minus time of arrival by the server, seconds.</param>
    public static double AheadOnArrivalS(double sentMinusArrivedS) => Math.Abs(sentMinusArrivedS) > OnTheWayS ? sentMinusArrivedS : 0;

    /// <summary>
    /// Which of two arrivals tells of the clock. A message that waits on its way makes the clock seem behind, never ahead: the one that
    /// waited less counts, unless both are as good as the same.
    /// </summary>
    /// <param name="knownS">Sending minus arrival of the arrivals before, seconds.</param>
    /// <param name="newS">Of the one that came now, seconds.</param>
    public static double LessDelayedS(double knownS, double newS) => newS > knownS + OnTheWayS ? newS : knownS;

    /// <summary>A time by the right clock, to the millisecond.</summary>
    /// <param name="atUtc">As noted.</param>
    /// <param name="aheadS">By how much the device's clock was ahead, seconds.</param>
    public static DateTimeOffset Corrected(DateTimeOffset atUtc, double aheadS) =>
        DateTimeOffset.FromUnixTimeMilliseconds(
            (long)Math.Round((atUtc - DateTimeOffset.UnixEpoch).TotalMilliseconds - aheadS * 1000, MidpointRounding.AwayFromZero)
        );
}
