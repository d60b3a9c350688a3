using Hangfire;
using Hangfire.States;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Scoring;

/// <summary>
/// Each minute, queues again what is stored, not scored, and has no living job: the process died in between.
/// </summary>
internal sealed class ScoreSweep(
    EachSchool schools,
    SchoolScope scope,
    SchoolDrillsDbContext db,
    IBackgroundJobClient jobs,
    JobStorage storage,
    TimeProvider clock,
    ILogger<ScoreSweep> log
)
{
    public const string Name = "score-sweep";

    /// <summary>An upload younger than this may still be about to queue its own job.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private static readonly AttemptStatus[] Waiting = [AttemptStatus.Queued, AttemptStatus.Scoring];

    [DisableConcurrentExecution(60)]
    public async Task RunAsync(CancellationToken ct)
    {
        scope.Enter(Viewer.Job());
        var unscored = await db
            .Database.SqlQuery<Unscored>($"select attempt_id as \"AttemptId\", school_id as \"SchoolId\" from lookup.unscored_attempts()")
            .ToListAsync(ct);
        foreach (var attempt in unscored)
            await schools.InAsync(attempt.SchoolId, schoolDb => QueueIfLostAsync(schoolDb, attempt, ct));
    }

    private async Task QueueIfLostAsync(SchoolDrillsDbContext schoolDb, Unscored attempt, CancellationToken ct)
    {
        var row = await schoolDb
            .Attempts.Where(a => a.Id == attempt.AttemptId)
            .Select(a => new { a.UploadedAtUtc, a.JobId })
            .FirstOrDefaultAsync(ct);
        if (row is null || clock.GetUtcNow() - row.UploadedAtUtc < Patience)
            return;
        if (QueuedJobs.IsAlive(storage, row.JobId))
            return;
        // Its job may have scored it since the list was read: a job ends after its attempt.
        if (!await schoolDb.Attempts.AnyAsync(a => a.Id == attempt.AttemptId && Waiting.Contains(a.Status), ct))
            return;
        await ScoreAttemptJob.EnqueueAsync(jobs, schoolDb, attempt.AttemptId, attempt.SchoolId, EnqueuedState.DefaultQueue, ct);
        log.LogWarning(
            "Attempt {AttemptId} was stored but had no job (last state {State}); queued again",
            attempt.AttemptId,
            QueuedJobs.StateOf(storage, row.JobId) ?? "none"
        );
    }

    private sealed record Unscored(Guid AttemptId, Guid SchoolId);
}
