using Hangfire;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Rescoring;

/// <summary>
/// Each minute, goes on with rescorings that have no living job: they gave way to recordings, an operator's command started them, or
/// the process died in between.
/// </summary>
internal sealed class RescoringSweep(EachSchool schools, IBackgroundJobClient jobs, JobStorage storage)
{
    public const string Name = "rescoring-sweep";

    [DisableConcurrentExecution(60)]
    public Task RunAsync(CancellationToken ct) =>
        schools.RunAsync(
            async (schoolId, db) =>
            {
                var run = await db
                    .Rescorings.Where(r => r.EndedAtUtc == null && !db.Schools.Any(s => s.SuspendedAtUtc != null))
                    .Select(r => new
                    {
                        r.Id,
                        r.JobId,
                        r.EngineVersion,
                    })
                    .FirstOrDefaultAsync(ct);
                if (
                    run is not null
                    && !OlderWork.IsOlder(AttemptScorer.EngineVersion, run.EngineVersion)
                    && !QueuedJobs.IsAlive(storage, run.JobId)
                )
                {
                    await RescoringJob.EnqueueAsync(jobs, db, run.Id, schoolId, ct);
                }
            },
            ct
        );
}
