using Hangfire;
using Hangfire.States;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Npgsql;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Rescoring;

/// <summary>
/// Scores a portion of a rescoring and queues the next, behind everything else. It gives way where a recording of any school waits for
/// a worker; the sweep then goes on. Killed in the middle, it goes on with the attempt it was at.
/// </summary>
internal sealed class RescoringJob(
    IServiceScopeFactory scopes,
    EachSchool schools,
    ScoringSlots slots,
    IBackgroundJobClient jobs,
    TimeProvider clock,
    ILogger<RescoringJob> log
)
{
    /// <summary>Attempts of one portion.</summary>
    internal const int AtOnce = 10;

    [AutomaticRetry(Attempts = 5, DelaysInSeconds = [5, 15, 60, 300, 900])]
    public Task RunAsync(Guid rescoringId, Guid schoolId, CancellationToken ct) => PortionAsync(rescoringId, schoolId, AtOnce, ct);

    /// <summary>Queues the next portion and notes on the rescoring which job does it.</summary>
    public static Task EnqueueAsync(
        IBackgroundJobClient jobs,
        SchoolDrillsDbContext db,
        Guid rescoringId,
        Guid schoolId,
        CancellationToken ct
    )
    {
        var jobId = jobs.Create<RescoringJob>(
            job => job.RunAsync(rescoringId, schoolId, CancellationToken.None),
            new EnqueuedState(ScoreAttemptJob.PatientQueue)
        );
        return db.Rescorings.Where(r => r.Id == rescoringId).ExecuteUpdateAsync(r => r.SetProperty(x => x.JobId, jobId), ct);
    }

    internal async Task PortionAsync(Guid rescoringId, Guid schoolId, int most, CancellationToken ct)
    {
        for (var n = 0; n < most; n++)
        {
            Guid? next = null;
            var goesOn = false;
            await schools.InAsync(schoolId, async db => (goesOn, next) = await NextAsync(db, rescoringId, ct));
            if (!goesOn)
                return;
            if (next is not { } attemptId)
            {
                await schools.InAsync(schoolId, db => EndAsync(db, rescoringId, schoolId, ct));
                return;
            }

            await RescoreAsync(rescoringId, schoolId, attemptId, ct);
        }

        await schools.InAsync(schoolId, db => EnqueueAsync(jobs, db, rescoringId, schoolId, ct));
    }

    private static async Task<(bool GoesOn, Guid? AttemptId)> NextAsync(SchoolDrillsDbContext db, Guid rescoringId, CancellationToken ct)
    {
        var run = await db.Rescorings.AsNoTracking().FirstOrDefaultAsync(r => r.Id == rescoringId && r.EndedAtUtc == null, ct);
        if (
            run is null
            || OlderWork.IsOlder(AttemptScorer.EngineVersion, run.EngineVersion)
            // What was accepted is scored all the same; this can wait until the school is resumed.
            || await db.Schools.AnyAsync(s => s.SuspendedAtUtc != null, ct)
            || await db.Database.SqlQuery<bool>($"select lookup.recording_waits() as \"Value\"").SingleAsync(ct)
        )
        {
            return (false, null);
        }

        return (
            true,
            await db
                .RescoringItems.Where(i => i.RescoringId == rescoringId && i.Outcome == RescoringOutcome.Waiting)
                .OrderBy(i => i.Number)
                .Select(i => (Guid?)i.AttemptId)
                .FirstOrDefaultAsync(ct)
        );
    }

    private async Task RescoreAsync(Guid rescoringId, Guid schoolId, Guid attemptId, CancellationToken ct)
    {
        await schools.InAsync(schoolId, db => BeginAsync(db, rescoringId, attemptId, ct));
        string? failure;
        await slots.TakeAsync(ct);
        await using (var scope = scopes.CreateAsyncScope())
        {
            var job = ActivatorUtilities.CreateInstance<ScoreAttemptJob>(scope.ServiceProvider);
            try
            {
                await job.RunAsync(attemptId, schoolId, isLastTry: false, ct);
                failure = job.EndedBecause;
            }
            // A fault of the database is over once it answers again; one of the program comes again with the same recording.
            catch (Exception e) when (e is not (OperationCanceledException or NpgsqlException or DbUpdateException))
            {
                log.LogError(e, "Attempt {AttemptId} could not be rescored", attemptId);
                failure = "The program failed on this recording; the fault has been logged.";
            }
            finally
            {
                slots.Release();
            }
        }

        await schools.InAsync(schoolId, db => KeepAsync(db, rescoringId, attemptId, failure, ct));
    }

    private async Task BeginAsync(SchoolDrillsDbContext db, Guid rescoringId, Guid attemptId, CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        var item = await ItemAsync(db, rescoringId, attemptId, ct);
        if (item.BegunAtUtc is not null)
            return;
        item.BegunAtUtc = now;
        item.EngineBefore = item.Attempt.ScoredWith;
        item.VerdictBefore = item.Attempt.Verdict;
        item.WithinShareBefore = item.Attempt.WithinShare;
        await db.SaveChangesAsync(ct);
    }

    private static async Task KeepAsync(SchoolDrillsDbContext db, Guid rescoringId, Guid attemptId, string? failure, CancellationToken ct)
    {
        var item = await ItemAsync(db, rescoringId, attemptId, ct);
        item.VerdictAfter = item.Attempt.Verdict;
        item.WithinShareAfter = item.Attempt.WithinShare;
        item.Failure = failure;
        item.Outcome =
            failure is not null ? RescoringOutcome.Failed
            : item.VerdictBefore != item.VerdictAfter || Shown(item.WithinShareBefore) != Shown(item.WithinShareAfter)
                ? RescoringOutcome.Changed
            : RescoringOutcome.Same;
        await db.SaveChangesAsync(ct);
    }

    private async Task EndAsync(SchoolDrillsDbContext db, Guid rescoringId, Guid schoolId, CancellationToken ct)
    {
        var items = db.RescoringItems.Where(i => i.RescoringId == rescoringId);
        var changed = await items.CountAsync(i => i.Outcome == RescoringOutcome.Changed, ct);
        var failed = await items.CountAsync(i => i.Outcome == RescoringOutcome.Failed, ct);
        var entry = new AuditEntry
        {
            SchoolId = schoolId,
            AtUtc = clock.GetUtcNow(),
            Action = "rescoring-ended",
            Subject = "rescoring",
            SubjectId = rescoringId,
            Detail = $"{changed} changed, {failed} failed",
        };
        await OlderWork.EndAsync(db, rescoringId, null, entry, ct);
    }

    private static Task<RescoringItemRow> ItemAsync(SchoolDrillsDbContext db, Guid rescoringId, Guid attemptId, CancellationToken ct) =>
        db.RescoringItems.Include(i => i.Attempt).SingleAsync(i => i.RescoringId == rescoringId && i.AttemptId == attemptId, ct);

    /// <summary>A share as it is printed: what nobody could see is no change.</summary>
    private static string? Shown(double? share) => share is { } known ? ParameterFormat.Percent(known) : null;
}
