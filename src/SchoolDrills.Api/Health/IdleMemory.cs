using Microsoft.Extensions.Hosting;

namespace SchoolDrills.Api.Health;

/// <summary>
/// Gives memory back after a burst of large recordings. The collector runs when something is allocated, so that a host which has gone
/// quiet would keep what the burst took.
/// </summary>
internal sealed class IdleMemory(TimeProvider clock) : BackgroundService
{
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(15);

    /// <summary>Allocated between two looks at most, bytes, while the host counts as quiet.</summary>
    private const long QuietBytes = 64 << 20;

    /// <summary>Worth a full collection, bytes: more than this was taken since the last one.</summary>
    private const long WorthBytes = 128 << 20;

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Look, clock);
        var allocated = GC.GetTotalAllocatedBytes();
        var kept = GC.GetGCMemoryInfo().TotalCommittedBytes;
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            var before = allocated;
            allocated = GC.GetTotalAllocatedBytes();
            if (allocated - before > QuietBytes || GC.GetGCMemoryInfo().TotalCommittedBytes - kept < WorthBytes)
                continue;
            GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
            kept = GC.GetGCMemoryInfo().TotalCommittedBytes;
        }
    }
}
