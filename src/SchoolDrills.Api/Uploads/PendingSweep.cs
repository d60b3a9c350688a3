using Hangfire;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.Uploads;

/// <summary>Deletes recordings that were uploaded, checked and never used, once their time is over.</summary>
internal sealed class PendingSweep(EachSchool schools, TimeProvider clock)
{
    public const string Name = "pending-sweep";

    [DisableConcurrentExecution(60)]
    public async Task RunAsync(CancellationToken ct)
    {
        var before = clock.GetUtcNow() - PendingTrack.Life;
        await schools.RunAsync((_, db) => db.PendingTracks.Where(t => t.SentAtUtc < before).ExecuteDeleteAsync(ct), ct);
    }
}
