using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Scoring;

/// <summary>Who takes which recording when. Each test in an app of its own: all schools share the queue.</summary>
public sealed class ScoringQueueTests : IAsyncLifetime
{
    private readonly SchoolsFixture app = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private ScoringQueue Queue => app.Services.GetRequiredService<ScoringQueue>();

    public ValueTask InitializeAsync() => app.InitializeAsync();

    public ValueTask DisposeAsync() => app.DisposeAsync();

    [Fact]
    public async Task One_upload_of_a_school_is_among_the_next_two_where_another_school_has_sixty_waiting()
    {
        await WaitAsync(app.TussockId, SchoolsFixture.Student, 60);
        for (var taken = 0; taken < 10; taken++)
            await Queue.EndAsync(await TakenAsync(scored: true), Cancel);
        await WaitAsync(app.ElsewhereId, SchoolsFixture.FarStudent, 1);
        var next = new[] { await TakenAsync(), await TakenAsync() };
        Assert.Contains(next, c => c.SchoolId == app.ElsewhereId);
    }

    [Fact]
    public async Task Two_schools_with_much_to_score_take_turns_and_one_alone_has_every_worker()
    {
        await WaitAsync(app.TussockId, SchoolsFixture.Student, 6);
        await WaitAsync(app.ElsewhereId, SchoolsFixture.FarStudent, 3);
        var schools = new List<Guid>();
        for (var taken = 0; taken < 9; taken++)
            schools.Add((await TakenAsync()).SchoolId);
        Assert.Equal(3, schools[..6].Count(s => s == app.ElsewhereId));
        Assert.All(schools[6..], s => Assert.Equal(app.TussockId, s));
        Assert.Null(await Queue.ClaimAsync(Cancel));
    }

    [Fact]
    public async Task Within_a_school_the_oldest_comes_first()
    {
        var waiting = await WaitAsync(app.TussockId, SchoolsFixture.Student, 4);
        foreach (var attempt in waiting)
            Assert.Equal(attempt, (await TakenAsync()).AttemptId);
    }

    [Fact]
    public async Task What_a_killed_worker_held_is_the_next_taken_and_its_claim_counts_no_more()
    {
        var waiting = await WaitAsync(app.TussockId, SchoolsFixture.Student, 5);
        var lost = await TakenAsync();
        Assert.Equal((waiting[0], 1), (lost.AttemptId, lost.Tries));
        await LeaseIsOverAsync();
        var again = await TakenAsync();
        Assert.Equal((lost.AttemptId, 2), (again.AttemptId, again.Tries));
        // The one that was taken for dead was slow only: it notices, and ends nothing of the other's.
        Assert.False(await Queue.KeepAsync(lost, Cancel));
        await Queue.EndAsync(lost, Cancel);
        Assert.True(await Queue.KeepAsync(again, Cancel));
        Assert.Equal(waiting[1], (await TakenAsync()).AttemptId);
    }

    [Fact]
    public async Task A_slow_worker_whose_recording_nobody_took_goes_on_with_it()
    {
        await WaitAsync(app.TussockId, SchoolsFixture.Student, 1);
        var slow = await TakenAsync();
        await LeaseIsOverAsync();
        Assert.True(await Queue.KeepAsync(slow, Cancel));
        Assert.Null(await Queue.ClaimAsync(Cancel));
    }

    [Fact]
    public async Task Workers_who_ask_at_once_never_take_the_same_and_leave_none()
    {
        var waiting = await WaitAsync(app.TussockId, SchoolsFixture.Student, 12);
        waiting.AddRange(await WaitAsync(app.ElsewhereId, SchoolsFixture.FarStudent, 4));
        var taken = await Task.WhenAll(Enumerable.Range(0, 20).Select(_ => Queue.ClaimAsync(Cancel)));
        Assert.Equal(waiting.Order(), taken.OfType<ScoringClaim>().Select(c => c.AttemptId).Order());
    }

    [Fact]
    public async Task What_failed_waits_for_its_next_try_and_what_was_given_back_was_no_try()
    {
        var waiting = await WaitAsync(app.TussockId, SchoolsFixture.Student, 2);
        await Queue.PutOffAsync(await TakenAsync(), TimeSpan.FromMinutes(5), Cancel);
        var second = await TakenAsync();
        Assert.Equal(waiting[1], second.AttemptId);
        await Queue.GiveBackAsync(second, Cancel);
        Assert.Equal((waiting[1], 1), await NextAsync());
        Assert.Null(await Queue.ClaimAsync(Cancel));
        await LeaseIsOverAsync();
        Assert.Equal((waiting[0], 2), await NextAsync());

        async Task<(Guid, int)> NextAsync() => await TakenAsync() is var claim ? (claim.AttemptId, claim.Tries) : default;
    }

    [Fact]
    public async Task A_worker_scores_what_it_took_and_a_change_meanwhile_makes_it_wait_again()
    {
        var attempt = await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, "f13.csv");
        await WorkAsync(await TakenAsync());
        Assert.Equal(AttemptStatus.Scored, await StatusAsync(attempt));
        Assert.Null(await Queue.ClaimAsync(Cancel));

        await QueueAgainAsync(attempt);
        var again = await TakenAsync();
        Assert.Equal((attempt, 1), (again.AttemptId, again.Tries));
        await WorkAsync(again);
        Assert.Equal(AttemptStatus.Scored, await StatusAsync(attempt));
        Assert.Equal(0, await ClaimsAsync());
    }

    [Fact]
    public async Task The_claim_of_a_worker_that_died_after_its_score_is_forgotten()
    {
        await WaitAsync(app.TussockId, SchoolsFixture.Student, 1);
        await TakenAsync(scored: true);
        await LeaseIsOverAsync();
        Assert.Null(await Queue.ClaimAsync(Cancel));
        Assert.Equal(0, await ClaimsAsync());
    }

    [Fact]
    public async Task A_recording_that_ends_every_worker_is_given_up_with_a_reason_instead_of_holding_up_its_school()
    {
        var attempt = await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, "f13.csv");
        ScoringClaim claim;
        do
        {
            claim = await TakenAsync();
            await LeaseIsOverAsync();
        } while (claim.Tries <= ScoreAttemptJob.Tries);
        await WorkAsync(await TakenAsync());
        var given = await (await app.AsAsync(SchoolsFixture.Student)).AttemptAsync(attempt, Cancel);
        Assert.Equal(AttemptStatus.Unscorable, given.Status);
        Assert.StartsWith("The program failed on this recording", given.Reason, StringComparison.Ordinal);
        Assert.Equal(0, await ClaimsAsync());
    }

    private async Task<ScoringClaim> TakenAsync(bool scored = false)
    {
        var claim = await Queue.ClaimAsync(Cancel);
        Assert.NotNull(claim);
        if (scored)
        {
            await InAsync(
                claim.SchoolId,
                db =>
                    db.Attempts.Where(a => a.Id == claim.AttemptId)
                        .ExecuteUpdateAsync(a => a.SetProperty(x => x.Status, AttemptStatus.Scored), Cancel)
            );
        }

        return claim;
    }

    private async Task WorkAsync(ScoringClaim claim) =>
        await ActivatorUtilities.CreateInstance<ScoringWorker>(app.Services).ScoreAsync(claim, Cancel);

    private Task<AttemptStatus> StatusAsync(Guid attempt) =>
        app.QueryAsync(db => db.Attempts.Where(a => a.Id == attempt).Select(a => a.Status).SingleAsync(Cancel));

    private Task<bool> QueueAgainAsync(Guid attemptId) =>
        app.QueryAsync(async db =>
            await new AttemptRescoring(db, TimeProvider.System).QueueAsync(await db.Attempts.SingleAsync(a => a.Id == attemptId), Cancel)
        );

    private async Task LeaseIsOverAsync()
    {
        await using var raw = await RawSql.OpenAsync(app.Database.OwnerConnectionString);
        await raw.ExecuteAsync("update scoring_claims set until_utc = now() - interval '1 second'");
    }

    private async Task<long> ClaimsAsync()
    {
        await using var raw = await RawSql.OpenAsync(app.Database.OwnerConnectionString);
        return await raw.CountAsync("scoring_claims");
    }

    /// <summary>Attempts that wait, a second after one another, the oldest first.</summary>
    private async Task<List<Guid>> WaitAsync(Guid schoolId, string student, int count)
    {
        var ids = new List<Guid>();
        var first = DateTimeOffset.UtcNow.AddHours(-1);
        await InAsync(
            schoolId,
            async db =>
            {
                var drillId = await db.DrillVersions.Where(d => d.Slug == "racetrack").Select(d => d.Id).FirstAsync(Cancel);
                for (var n = 0; n < count; n++)
                {
                    var attempt = new Attempt
                    {
                        SchoolId = schoolId,
                        StudentId = app.IdOf(student),
                        DrillVersionId = drillId,
                        UploadedById = app.IdOf(student),
                        UploadedAtUtc = first.AddSeconds(n),
                        FileName = "waiting.csv",
                        FileBytes = 1,
                        Sha256 = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(32)),
                        Meta = new AttemptMeta(),
                    };
                    db.Attempts.Add(attempt);
                    ids.Add(attempt.Id);
                }

                await db.SaveChangesAsync(Cancel);
            }
        );
        return ids;
    }

    private async Task InAsync(Guid schoolId, Func<SchoolDrillsDbContext, Task> step)
    {
        await using var scope = app.Services.CreateAsyncScope();
        scope.ServiceProvider.GetRequiredService<SchoolScope>().Enter(Viewer.Staff(schoolId, Guid.Empty, ownStudents: null));
        await step(scope.ServiceProvider.GetRequiredService<SchoolDrillsDbContext>());
    }
}
