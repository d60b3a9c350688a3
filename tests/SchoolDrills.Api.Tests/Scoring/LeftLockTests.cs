using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Scoring;

/// <summary>A worker that is killed leaves its locks in the queue's table.</summary>
[Collection<LeftLockTests.Alone>]
public sealed class LeftLockTests(LeftLockTests.WithJobs app)
{
    /// <summary>The queue's own limit was ten minutes.</summary>
    [Fact(Timeout = 180_000)]
    public async Task The_locks_of_a_killed_worker_hold_no_recording_up_for_minutes()
    {
        var cancel = TestContext.Current.CancellationToken;
        // Of whichever number the next job gets.
        await using (var raw = await RawSql.OpenAsync(app.Database.OwnerConnectionString))
        {
            await raw.ExecuteAsync(
                """
                insert into hangfire.lock (resource, acquired)
                select 'hangfire:job:' || last.id + n || ':state-lock', now() at time zone 'utc'
                from (select coalesce(max(id), 0) as id from hangfire.job) last, generate_series(1, 20) n
                """
            );
        }

        var assignment = await app.AssignAsync("timed-turns");
        var attempt = await app.UploadAsync(assignment.Id, "f13.csv");
        var student = await app.AsAsync(SchoolsFixture.Student);
        while ((await student.AttemptAsync(attempt, cancel)).Status is AttemptStatus.Queued or AttemptStatus.Scoring)
            await Task.Delay(200, cancel);
        Assert.Equal(AttemptStatus.Scored, (await student.AttemptAsync(attempt, cancel)).Status);
    }

    public sealed class WithJobs : SchoolsFixture
    {
        protected override bool RunsJobs => true;
    }

    /// <summary>The queue takes its log from a place that all hosts of a process share: one that ends takes it along.</summary>
    [CollectionDefinition(DisableParallelization = true)]
    public sealed class Alone : ICollectionFixture<WithJobs>;
}
