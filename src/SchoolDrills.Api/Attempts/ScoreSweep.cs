using Hangfire;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.Attempts;

/// <summary>Each minute, queues again what is stored, not scored, and has no job that will do it: the process died in between.</summary>
internal sealed class ScoreSweep(IServiceScopeFactory scopes, SchoolDrillsDbContext db, IBackgroundJobClient jobs, JobStorage storage, TimeProvider clock, ILogger<ScoreSweep> log)
{
    public const string Name = "score-sweep";

    /// <summary>An upload younger than this may still be about to queue its own job.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private static readonly string[] Alive = ["Enqueued", "Processing", "Scheduled", "Awaiting"];

    [DisableConcurrentExecution(60)]
    public async Task RunAsync(CancellationToken ct)
    {
        var unscored = await db.Database.SqlQuery<Unscored>($"select attempt_id as \"AttemptId\", school_id as \"SchoolId\" from lookup.unscored_attempts()").ToListAsync(ct);
        foreach (var attempt in unscored)
        {
            // A school's rows are seen by a scope that entered it, and a scope enters one school.
            await using var school = scopes.CreateAsyncScope();
            var scope = school.ServiceProvider.GetRequiredService<SchoolScope>();
            scope.ActAsJob();
            scope.Enter(attempt.SchoolId, null);
            await QueueIfLostAsync(school.ServiceProvider.GetRequiredService<SchoolDrillsDbContext>(), attempt, ct);
        }
    }

    private async Task QueueIfLostAsync(SchoolDrillsDbContext schoolDb, Unscored attempt, CancellationToken ct)
    {
        var row = await schoolDb.Attempts.Where(a => a.Id == attempt.AttemptId).Select(a => new { a.UploadedAtUtc, a.JobId }).FirstOrDefaultAsync(ct);
        if (row is null || clock.GetUtcNow() - row.UploadedAtUtc < Patience) return;
        var state = row.JobId is null ? null : storage.GetMonitoringApi().JobDetails(row.JobId)?.History.FirstOrDefault()?.StateName;
        if (Alive.Contains(state)) return;
        var jobId = ScoreAttemptJob.Enqueue(jobs, attempt.AttemptId, attempt.SchoolId);
        await schoolDb.Attempts.Where(a => a.Id == attempt.AttemptId).ExecuteUpdateAsync(a => a.SetProperty(x => x.JobId, jobId), ct);
        log.LogWarning("Attempt {AttemptId} was stored but had no job (last state {State}); queued again", attempt.AttemptId, state ?? "none");
    }

    private sealed record Unscored(Guid AttemptId, Guid SchoolId);
}
