namespace SchoolDrills.Cockpit.Flying;

/// <summary>
/// The device's clock as it stood when the page was opened, run on by its steady counter: a clock that is set meanwhile, by the network
/// or by hand, moves neither the drill's clock nor the marks.
/// </summary>
internal sealed class DeviceTime(TimeProvider clock)
{
    /// <summary>Some devices stop the counter while they sleep. A clock that is set differs by less, as a rule.</summary>
    private static readonly TimeSpan Slept = TimeSpan.FromSeconds(5);

    private long anchor = clock.GetTimestamp();

    public DateTimeOffset UtcNow
    {
        get => field + clock.GetElapsedTime(anchor);
        private set => (field, anchor) = (value, clock.GetTimestamp());
    } = clock.GetUtcNow();

    /// <summary>The page is seen again after it was hidden: where the counter stood still, the clock is right.</summary>
    public void Seen()
    {
        if (clock.GetUtcNow() is var now && now - UtcNow >= Slept)
            UtcNow = now;
    }
}
