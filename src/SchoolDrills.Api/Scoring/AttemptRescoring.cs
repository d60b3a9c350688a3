using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using Npgsql;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Watching;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.InFlight;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Api.Scoring;

/// <summary>
/// Re-scores an attempt after something it is scored with has changed: manual corrections, or what was entered with the upload. Its
/// reports stay, and the latest one is shown until the new one is there.
/// </summary>
internal sealed class AttemptRescoring(SchoolDrillsDbContext db, TimeProvider clock)
{
    /// <summary>
    /// Saves the tracked attempt as the caller changed it, with whatever else the caller added, under its next revision and as one that
    /// waits. An added <see cref="AttemptCorrection"/> or audit entry is thus in the same transaction.
    /// </summary>
    /// <returns>False where somebody else changed the attempt since it was loaded: nothing is then saved.</returns>
    public async Task<bool> QueueAsync(Attempt attempt, CancellationToken ct)
    {
        attempt.Revision++;
        attempt.Status = AttemptStatus.Queued;
        attempt.QueuedAtUtc = clock.GetUtcNow();
        attempt.TraceParent = Traces.Parent;
        attempt.Stage = null;
        attempt.Reason = null;
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateException e)
            when (e is DbUpdateConcurrencyException
                || e.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation }
            )
        {
            db.ChangeTracker.Clear();
            return false;
        }

        return true;
    }

    /// <summary>
    /// The same for attempts that the caller changed in a transaction, which this ends. One that waits to be scored will see the change
    /// anyway and is left.
    /// </summary>
    public async Task QueueChangedAsync(IReadOnlyList<Guid> attemptIds, IDbContextTransaction transaction, CancellationToken ct)
    {
        var queued = await db
            .Attempts.Where(a => attemptIds.Contains(a.Id) && a.Status != AttemptStatus.Queued)
            .Select(a => a.Id)
            .ToListAsync(ct);
        var (now, trace) = (clock.GetUtcNow(), Traces.Parent);
        foreach (var attemptId in queued)
        {
            await db
                .Attempts.Where(a => a.Id == attemptId)
                .ExecuteUpdateAsync(
                    a =>
                        a.SetProperty(x => x.Revision, x => x.Revision + 1)
                            .SetProperty(x => x.Status, AttemptStatus.Queued)
                            .SetProperty(x => x.QueuedAtUtc, now)
                            .SetProperty(x => x.TraceParent, trace)
                            .SetProperty(x => x.Stage, (string?)null)
                            .SetProperty(x => x.Reason, (string?)null),
                    ct
                );
        }

        await transaction.CommitAsync(ct);
    }

    /// <summary>
    /// Gives the logs of an attempt's assignment to the recordings they fit, and queues what changed by it; but not the attempt itself
    /// before it has its report, since what is copied now is read for that.
    /// </summary>
    /// <param name="track">Of the attempt, before it has its report.</param>
    public async Task LinkLogsAsync(Attempt attempt, Track? track, CancellationToken ct)
    {
        if (attempt.AssignmentId is not { } assignmentId || !await db.FlightLogs.AnyAsync(l => l.AssignmentId == assignmentId, ct))
            return;
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        await FlightLogLinks.LockAsync(db, assignmentId, ct);
        var beingScored = track is null
            ? ((Guid, RecordedFlight)?)null
            : (attempt.Id, new RecordedFlight(track.EpochUtc.AddSeconds(track.TimeS.Min()), track.EpochUtc.AddSeconds(track.TimeS.Max())));
        var changed = await FlightLogLinks.LinkAsync(db, assignmentId, beingScored, ct);
        await QueueChangedAsync([.. changed.Where(id => track is null || id != attempt.Id)], transaction, ct);
    }
}
