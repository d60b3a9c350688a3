using System.Net;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Rescoring;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Api.Tests.Rescoring;

/// <summary>Each test in an app of its own: a school has one rescoring at a time.</summary>
public sealed class RescoringTests : IAsyncLifetime
{
    private readonly SchoolsFixture app = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public ValueTask InitializeAsync() => app.InitializeAsync();

    public ValueTask DisposeAsync() => app.DisposeAsync();

    [Fact]
    public async Task Of_two_chiefs_at_once_one_starts_it_and_the_other_stops_it_with_what_is_done_kept()
    {
        await OldAsync("f13.csv");
        await OldAsync("f13.gpx");
        var (first, second) = (await app.AsAsync(SchoolsFixture.Chief), await app.NewcomerAsync("second-chief", Roles.Chief));
        var asked = await Task.WhenAll(((SchoolDrillsClient[])[first, second]).Select(TryAsync));
        var standing = Assert.Single(asked, a => a.Standing is not null).Standing!;
        var refusal = Assert.Single(asked, a => a.Refusal is not null).Refusal!;
        Assert.True(refusal.Is("rescoring-runs"));
        Assert.StartsWith(standing.Newest!.StartedBy!, refusal.Message, StringComparison.Ordinal);

        await Portions.DoAsync(app, standing.Newest.Id, app.TussockId, most: 1);
        var stopped = (await second.StopRescoringAsync(Cancel)).Newest!;
        Assert.Equal((1, 2, "The second-chief", true), (stopped.Done, stopped.Chosen, stopped.StoppedBy, stopped.EndedAtUtc is not null));
        await Portions.DoAsync(app, stopped.Id, app.TussockId);
        Assert.Equal(1, (await first.RescoringAsync(ct: Cancel)).Newest!.Done);
        Assert.Equal(1, Assert.Single((await first.RescoringAsync(ct: Cancel)).Older).Attempts);
        await Refusals.RefusedAsync(HttpStatusCode.Conflict, () => first.StopRescoringAsync(Cancel));
        // What was left may be started again.
        Assert.Equal(1, (await first.RescoreAsync(new RescoringChoice(), Cancel)).Newest!.Chosen);

        static async Task<(RescoringStanding? Standing, ApiProblemException? Refusal)> TryAsync(SchoolDrillsClient client)
        {
            try
            {
                return (await client.RescoreAsync(new RescoringChoice(), Cancel), null);
            }
            catch (ApiProblemException refused)
            {
                return (null, refused);
            }
        }
    }

    [Fact]
    public async Task A_fresh_recording_is_scored_first_and_the_sweep_then_goes_on()
    {
        var old = await OldAsync("f13.csv");
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var run = (await chief.RescoreAsync(new RescoringChoice(), Cancel)).Newest!;
        Assert.Equal(ScoreAttemptJob.PatientQueue, Portions.QueueOf(app, await JobAsync()));
        var fresh = await app.UploadAsync((await app.AssignAsync("racetrack")).Id, "f12.csv");
        await Portions.DoAsync(app, run.Id, app.TussockId);
        Assert.Equal(0, (await chief.RescoringAsync(ct: Cancel)).Newest!.Done);
        // It is shown as scored all the while.
        Assert.Equal(AttemptStatus.Scored, (await chief.AttemptAsync(old, Cancel)).Status);

        await app.ScoreAsync(fresh);
        await app.QueryAsync(db => db.Rescorings.ExecuteUpdateAsync(r => r.SetProperty(x => x.JobId, "2000000000"), Cancel));
        await Portions.SweepAsync(app);
        var job = await JobAsync();
        Assert.Equal(ScoreAttemptJob.PatientQueue, Portions.QueueOf(app, job));
        // A job that waits is not queued twice.
        await Portions.SweepAsync(app);
        Assert.Equal(job, await JobAsync());
        await Portions.DoAsync(app, run.Id, app.TussockId);
        Assert.NotNull((await chief.RescoringAsync(ct: Cancel)).Newest!.EndedAtUtc);
        Assert.Equal(AttemptScorer.EngineVersion, await ScoredWithAsync(old));

        async Task<string> JobAsync() => (await app.QueryAsync(db => db.Rescorings.Select(r => r.JobId).SingleAsync(Cancel)))!;
    }

    [Fact]
    public async Task A_worker_killed_between_score_and_note_does_not_hide_what_changed()
    {
        var old = await OldAsync("f13.csv");
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var run = (await chief.RescoreAsync(new RescoringChoice(), Cancel)).Newest!;
        // It had noted 10% within and not met, then scored, and died.
        await app.QueryAsJobAsync(db =>
            db.RescoringItems.ExecuteUpdateAsync(
                i =>
                    i.SetProperty(x => x.BegunAtUtc, DateTimeOffset.UtcNow)
                        .SetProperty(x => x.VerdictBefore, Verdict.NotMet)
                        .SetProperty(x => x.WithinShareBefore, 0.1),
                Cancel
            )
        );
        await app.ScoreAsync(old);
        await Portions.DoAsync(app, run.Id, app.TussockId);
        var told = Assert.Single((await chief.RescoredAsync(ct: Cancel)).Items);
        var now = await chief.AttemptAsync(old, Cancel);
        Assert.Equal((old, Verdict.NotMet, 0.1), (told.AttemptId, told.VerdictBefore, told.WithinShareBefore));
        Assert.Equal((now.Score!.Overall.Verdict, now.Score.Overall.WithinShare), (told.VerdictNow, told.WithinShareNow));
        Assert.Equal(("The student", false), (told.StudentName, told.Graded));
        Assert.Equal(1, (await chief.RescoringAsync(ct: Cancel)).Newest!.Changed);
    }

    [Fact]
    public async Task What_cannot_be_rescored_keeps_its_score_and_says_why()
    {
        var old = await OldAsync("f13.csv");
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var score = (await chief.AttemptAsync(old, Cancel)).Score!;
        var nowhere = new AttemptMeta { Columns = new Dictionary<string, ColumnChoice> { ["altitude"] = new("no such column") } };
        await app.QueryAsync(db =>
            db.Attempts.Where(a => a.Id == old)
                .ExecuteUpdateAsync(a => a.SetProperty(x => x.Meta, nowhere).SetProperty(x => x.Revision, x => x.Revision + 1), Cancel)
        );
        var run = (await chief.RescoreAsync(new RescoringChoice(), Cancel)).Newest!;
        await Portions.DoAsync(app, run.Id, app.TussockId);
        var told = Assert.Single((await chief.RescoredAsync(ct: Cancel)).Items);
        Assert.StartsWith("The column mapping names \"altitude\"", told.Failure, StringComparison.Ordinal);
        var standing = (await chief.RescoringAsync(ct: Cancel)).Newest!;
        Assert.Equal((1, 1, 0), (standing.Done, standing.Failed, standing.Changed));
        var kept = await chief.AttemptAsync(old, Cancel);
        Assert.Equal((AttemptStatus.Scored, score.Overall.WithinShare), (kept.Status, kept.Score!.Overall.WithinShare));
    }

    [Fact]
    public async Task Students_instructors_and_other_schools_have_no_part_in_it()
    {
        await OldAsync("f13.csv");
        foreach (var person in (string[])[SchoolsFixture.Student, SchoolsFixture.Instructor])
        {
            var client = await app.AsAsync(person);
            foreach (
                var request in (Func<Task>[])
                    [
                        () => client.RescoringAsync(ct: Cancel),
                        () => client.RescoreAsync(new RescoringChoice(), Cancel),
                        () => client.StopRescoringAsync(Cancel),
                        () => client.RescoredAsync(ct: Cancel),
                    ]
            )
            {
                await Refusals.RefusedAsync(HttpStatusCode.Forbidden, request);
            }
        }

        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var run = (await chief.RescoreAsync(new RescoringChoice(), Cancel)).Newest!;
        var far = await app.AsAsync(SchoolsFixture.FarChief);
        var theirs = await far.RescoringAsync(ct: Cancel);
        Assert.Equal((0, null), (theirs.WouldChoose, theirs.Newest));
        Assert.Empty(theirs.Older);
        await Refusals.RefusedAsync(HttpStatusCode.Conflict, () => far.StopRescoringAsync(Cancel));
        var nothing = await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => far.RescoreAsync(new RescoringChoice(), Cancel)
        );
        Assert.True(nothing.Is("nothing-to-rescore"));
        await Portions.DoAsync(app, run.Id, app.ElsewhereId);
        Assert.Equal(0, (await chief.RescoringAsync(ct: Cancel)).Newest!.Done);
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.RescoringAsync(new RescoringChoice(FlownFrom: new DateOnly(2026, 2, 2), FlownTo: new DateOnly(2026, 2, 1)), Cancel)
        );
    }

    [Fact]
    public async Task A_host_of_an_older_engine_leaves_it_to_the_newer_one()
    {
        var old = await OldAsync("f13.csv");
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var run = new RescoringRow
        {
            SchoolId = app.TussockId,
            EngineVersion = "99.0.0",
            StartedAtUtc = DateTimeOffset.UtcNow,
            Choice = new RescoringChoice(),
            Chosen = 1,
        };
        await app.QueryAsync(async db =>
        {
            db.Rescorings.Add(run);
            db.RescoringItems.Add(
                new RescoringItemRow
                {
                    RescoringId = run.Id,
                    AttemptId = old,
                    SchoolId = app.TussockId,
                    Number = 1,
                    Outcome = RescoringOutcome.Waiting,
                }
            );
            return await db.SaveChangesAsync(Cancel);
        });
        await Portions.SweepAsync(app);
        await Portions.DoAsync(app, run.Id, app.TussockId);
        Assert.Null(await app.QueryAsync(db => db.Rescorings.Select(r => r.JobId).SingleAsync(Cancel)));
        Assert.Equal(0, (await chief.RescoringAsync(ct: Cancel)).Newest!.Done);
        Assert.Equal("0.9.0", await ScoredWithAsync(old));
    }

    /// <summary>An attempt as an older engine left it.</summary>
    private async Task<Guid> OldAsync(string recording)
    {
        var attemptId = await app.ScoredAsync("timed-turns", recording);
        await app.QueryAsJobAsync(db =>
            db.Attempts.Where(a => a.Id == attemptId).ExecuteUpdateAsync(a => a.SetProperty(x => x.ScoredWith, "0.9.0"), Cancel)
        );
        return attemptId;
    }

    private Task<string?> ScoredWithAsync(Guid id) =>
        app.QueryAsync(db => db.Attempts.Where(a => a.Id == id).Select(a => a.ScoredWith).SingleAsync(Cancel));
}
