using SchoolDrills.Cockpit.Flying;
using SchoolDrills.Cockpit.Storage;

namespace SchoolDrills.Cockpit.Sync;

/// <summary>
/// Compares this device's clock with the server's, by the date that every answer carries. That is in whole seconds, so the comparison is
/// good to about half a second: less than a thumb needs.
/// </summary>
internal sealed class ServerClock : DelegatingHandler
{
    private readonly DeviceTime time;
    private readonly DeviceStore store;

    public ServerClock(DeviceTime time, DeviceStore store)
        : base(new HttpClientHandler()) => (this.time, this.store) = (time, store);

    /// <summary>This device's clock ahead of the server's, seconds; null before any answer.</summary>
    public double? AheadS { get; private set; }

    /// <summary>Takes up what was measured before the page was closed.</summary>
    public async Task ResumeAsync() => AheadS ??= await store.ClockAsync();

    protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken ct)
    {
        var sent = time.UtcNow;
        var response = await base.SendAsync(request, ct);
        var took = time.UtcNow - sent;
        if (response.Headers.Date is { } date && took < TimeSpan.FromSeconds(2))
        {
            var aheadS = (sent + (took / 2) - date.AddSeconds(0.5)).TotalSeconds;
            AheadS = Math.Round(aheadS, 1);
            await store.SaveClockAsync(AheadS.Value);
        }

        return response;
    }
}
