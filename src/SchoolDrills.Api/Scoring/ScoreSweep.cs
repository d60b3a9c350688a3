using Hangfire;
using Hangfire.States;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Scoring;

/// <summary>
/// Each minute, queues again what is stored, not scored, and has no living job: the process died in between. Where nothing waits, it
/// also queues a few attempts that an older engine scored, behind everything else, so that all attempts of a student are measured
/// alike. Signed grades keep the report they were given against.
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

    /// <summary>Attempts of a school re-scored in one minute, at most.</summary>
    private const int OutdatedAtOnce = 20;

    private static readonly AttemptStatus[] Waiting = [AttemptStatus.Queued, AttemptStatus.Scoring];

    private static readonly string[] Alive = ["Enqueued", "Processing", "Scheduled", "Awaiting"];

    [DisableConcurrentExecution(60)]
    public async Task RunAsync(CancellationToken ct)
    {
        scope.Enter(Viewer.Job());
        var unscored = await db
            .Database.SqlQuery<Unscored>($"select attempt_id as \"AttemptId\", school_id as \"SchoolId\" from lookup.unscored_attempts()")
            .ToListAsync(ct);
        foreach (var attempt in unscored)
            await schools.InAsync(attempt.SchoolId, schoolDb => QueueIfLostAsync(schoolDb, attempt, ct));
        await schools.RunAsync(
            async (schoolId, schoolDb) =>
            {
                if (unscored.TrueForAll(a => a.SchoolId != schoolId))
                    await QueueOutdatedAsync(schoolDb, schoolId, ct);
            },
            ct
        );
    }

    /// <summary>Only upward: while hosts of two versions run side by side, the older one must not undo what the newer did.</summary>
    private async Task QueueOutdatedAsync(SchoolDrillsDbContext schoolDb, Guid schoolId, CancellationToken ct)
    {
        var mine = Version.Parse(AttemptScorer.EngineVersion);
        // Before and after this one in the order of an index: where all are of this version, there is nothing to walk through.
        var versions = await schoolDb
            .Database.SqlQuery<string>(
                $"""
                select distinct scored_with as "Value" from attempts
                where scored_with < {AttemptScorer.EngineVersion} or scored_with > {AttemptScorer.EngineVersion}
                """
            )
            .ToListAsync(ct);
        var older = versions.FindAll(v => Version.TryParse(v, out var version) && version < mine);
        if (older.Count == 0)
            return;
        var outdated = await schoolDb
            .Attempts.Where(a =>
                older.Contains(a.ScoredWith!) && (a.Status == AttemptStatus.Scored || a.Status == AttemptStatus.Unscorable)
            )
            // Of who was erased the score stays, and the recording is gone.
            .Where(a => schoolDb.TrackFiles.Any(f => f.AttemptId == a.Id))
            .OrderByDescending(a => a.UploadedAtUtc)
            .Take(OutdatedAtOnce)
            .Select(a => new { a.Id, a.JobId })
            .ToListAsync(ct);
        foreach (var attempt in outdated.Where(a => !Alive.Contains(StateOf(a.JobId))))
            await ScoreAttemptJob.EnqueueAsync(jobs, schoolDb, attempt.Id, schoolId, ScoreAttemptJob.PatientQueue, ct);
    }

    private async Task QueueIfLostAsync(SchoolDrillsDbContext schoolDb, Unscored attempt, CancellationToken ct)
    {
        var row = await schoolDb
            .Attempts.Where(a => a.Id == attempt.AttemptId)
            .Select(a => new { a.UploadedAtUtc, a.JobId })
            .FirstOrDefaultAsync(ct);
        if (row is null || clock.GetUtcNow() - row.UploadedAtUtc < Patience)
            return;
        var state = StateOf(row.JobId);
        if (Alive.Contains(state))
            return;
        // Its job may have scored it since the list was read: a job ends after its attempt.
        if (!await schoolDb.Attempts.AnyAsync(a => a.Id == attempt.AttemptId && Waiting.Contains(a.Status), ct))
            return;
        await ScoreAttemptJob.EnqueueAsync(jobs, schoolDb, attempt.AttemptId, attempt.SchoolId, EnqueuedState.DefaultQueue, ct);
        log.LogWarning(
            "Attempt {AttemptId} was stored but had no job (last state {State}); queued again",
            attempt.AttemptId,
            state ?? "none"
        );
    }

    private string? StateOf(string? jobId) =>
        jobId is null ? null : storage.GetMonitoringApi().JobDetails(jobId)?.History.FirstOrDefault()?.StateName;

    private sealed record Unscored(Guid AttemptId, Guid SchoolId);
}
