using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Scoring;

/// <summary>The sweep while workers go on.</summary>
public sealed class ScoreSweepTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task What_is_scored_while_the_sweep_looks_for_its_job_is_not_queued_again()
    {
        var attempt = await WaitingWithEndedJobAsync("f13.csv");
        var job = await JobOfAsync(attempt);
        await using var raw = await RawSql.OpenAsync(app.Database.OwnerConnectionString);
        // Holds the sweep between its list and the job's state.
        await raw.ExecuteAsync("begin; lock table hangfire.state in access exclusive mode");
        var sweep = SweepAsync();
        await using (var watch = await RawSql.OpenAsync(app.Database.OwnerConnectionString))
        {
            const string Held = "select count(*) from pg_locks where not granted and relation = 'hangfire.state'::regclass";
            while ((long)(await watch.ScalarAsync(Held))! == 0)
                await Task.Delay(20, Cancel);
        }

        await app.QueryAsJobAsync(db =>
            db.Attempts.Where(a => a.Id == attempt).ExecuteUpdateAsync(a => a.SetProperty(x => x.Status, AttemptStatus.Scored), Cancel)
        );
        await raw.ExecuteAsync("commit");
        await sweep;
        Assert.Equal(job, await JobOfAsync(attempt));
    }

    [Fact]
    public async Task What_waits_with_a_job_that_has_ended_is_queued_again()
    {
        var attempt = await WaitingWithEndedJobAsync("f13.gpx");
        var job = await JobOfAsync(attempt);
        await SweepAsync();
        Assert.NotEqual(job, await JobOfAsync(attempt));
    }

    /// <summary>An upload old enough to be looked after.</summary>
    private async Task<Guid> WaitingWithEndedJobAsync(string recording)
    {
        var attempt = await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, recording);
        await app.QueryAsJobAsync(db =>
            db.Attempts.Where(a => a.Id == attempt)
                .ExecuteUpdateAsync(a => a.SetProperty(x => x.UploadedAtUtc, DateTimeOffset.UtcNow.AddMinutes(-5)), Cancel)
        );
        await using var raw = await RawSql.OpenAsync(app.Database.OwnerConnectionString);
        await raw.ExecuteAsync(
            $"insert into hangfire.state (jobid, name, createdat, data) values ({await JobOfAsync(attempt)}, 'Succeeded', now(), '{{}}')"
        );
        return attempt;
    }

    private Task<string> JobOfAsync(Guid attempt) =>
        app.QueryAsync(db => db.Attempts.Where(a => a.Id == attempt).Select(a => a.JobId!).SingleAsync(Cancel));

    private async Task SweepAsync()
    {
        await using var scope = app.Services.CreateAsyncScope();
        await ActivatorUtilities.CreateInstance<ScoreSweep>(scope.ServiceProvider).RunAsync(Cancel);
    }
}
