using Hangfire;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using Npgsql;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Scoring;

/// <summary>
/// Re-scores an attempt after something it is scored with has changed: manual corrections, or what was entered with the upload. Its
/// reports stay, and the latest one is shown until the new one is there.
/// </summary>
internal sealed class AttemptRescoring(SchoolDrillsDbContext db, IBackgroundJobClient jobs, ILogger<AttemptRescoring> log)
{
    /// <summary>
    /// Saves the tracked attempt as the caller changed it, with whatever else the caller added, under its next revision, and queues
    /// the job. An added <see cref="AttemptCorrection"/> or audit entry is thus in the same transaction.
    /// </summary>
    /// <returns>False where somebody else changed the attempt since it was loaded: nothing is then saved.</returns>
    public async Task<bool> QueueAsync(Attempt attempt, CancellationToken ct)
    {
        attempt.Revision++;
        attempt.Status = AttemptStatus.Queued;
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

        // Should the process die here, the sweep finds the attempt queued and without a living job.
        await ScoreAttemptJob.EnqueueStoredAsync(jobs, db, attempt, log, ct);
        return true;
    }
}
