using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Drafts;
using SchoolDrills.Api.Drills;
using SchoolDrills.Contracts;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Api.Tests.Drills;

public sealed class DraftTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Of_two_editors_at_once_the_second_is_told_who_saved_and_nothing_is_lost()
    {
        var (chief, instructor) = await EditorsAsync();
        var first = await chief.CreateDraftAsync(Draft("two-editors", 30), Cancel);
        Assert.Equal((1, 0, "The chief"), (first.Revision, first.BasedOnVersion, first.SavedBy));

        var theirs = await instructor.SaveDraftAsync("two-editors", Draft("two-editors", 45), first.Revision, Cancel);
        Assert.Equal((2, "The instructor"), (theirs.Revision, theirs.SavedBy));
        var refusal = await Refusals.RefusedAsync(
            HttpStatusCode.PreconditionFailed,
            () => chief.SaveDraftAsync("two-editors", Draft("two-editors", 60), first.Revision, Cancel)
        );
        Assert.True(refusal.Is(ApiProblemException.DraftChanged));
        Assert.Contains("The instructor", refusal.Message, StringComparison.Ordinal);
        var stored = await chief.DraftAsync("two-editors", Cancel);
        Assert.Equal((2, (double?)45), (stored.Revision, stored.Template.Segments[0].DurationS));

        // Both put together, with what was saved over still to be had.
        var both = await chief.SaveDraftAsync("two-editors", Draft("two-editors", 60), 2, Cancel);
        Assert.Equal(3, both.Revision);
        Assert.Equal([2, 1], (await chief.DraftRevisionsAsync("two-editors", Cancel)).Select(r => r.Revision));
        Assert.Equal(30, (await chief.DraftRevisionAsync("two-editors", 1, Cancel)).Template.Segments[0].DurationS);
        Assert.Equal(45, (await instructor.DraftRevisionAsync("two-editors", 2, Cancel)).Template.Segments[0].DurationS);
        Assert.Equal(60, (await instructor.DraftRevisionAsync("two-editors", 3, Cancel)).Template.Segments[0].DurationS);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => chief.DraftRevisionAsync("two-editors", 4, Cancel));
    }

    [Fact]
    public async Task Of_many_saves_at_the_same_moment_from_one_revision_one_is_taken()
    {
        var (chief, _) = await EditorsAsync();
        await chief.CreateDraftAsync(Draft("at-once", 30), Cancel);
        var answers = await Task.WhenAll(
            Enumerable
                .Range(40, 6)
                .Select(async n => await StatusAsync(() => chief.SaveDraftAsync("at-once", Draft("at-once", n), 1, Cancel)))
        );
        Assert.Equal((1, 5), (answers.Count(a => a is null), answers.Count(a => a == HttpStatusCode.PreconditionFailed)));
        Assert.Equal(2, (await chief.DraftAsync("at-once", Cancel)).Revision);

        // Without a word on what it started from each is taken, one after another, and each but the last is kept.
        var all = await Task.WhenAll(
            Enumerable
                .Range(50, 6)
                .Select(async n => await StatusAsync(() => chief.SaveDraftAsync("at-once", Draft("at-once", n), null, Cancel)))
        );
        Assert.All(all, Assert.Null);
        Assert.Equal(8, (await chief.DraftAsync("at-once", Cancel)).Revision);
        Assert.Equal([7, 6, 5, 4, 3, 2, 1], (await chief.DraftRevisionsAsync("at-once", Cancel)).Select(r => r.Revision));
    }

    [Fact]
    public async Task Of_two_who_make_a_drill_of_the_same_name_at_once_one_is_told_that_it_is_there()
    {
        var (chief, instructor) = await EditorsAsync();
        var answers = await Task.WhenAll(
            StatusAsync(() => chief.CreateDraftAsync(Draft("same-name", 30), Cancel)),
            StatusAsync(() => instructor.CreateDraftAsync(Draft("same-name", 45), Cancel))
        );
        Assert.Equal([null, HttpStatusCode.Conflict], answers.Order());
    }

    [Fact]
    public async Task An_unfinished_draft_is_saved_as_typed_listed_with_its_problems_and_not_published()
    {
        var (chief, _) = await EditorsAsync();
        var typed = Draft("half-done", 30) with { Title = "", StandardSlug = "none-yet", Segments = [] };
        var draft = await chief.CreateDraftAsync(typed, Cancel);
        Assert.Equal(("", 0), (draft.Template.Title, draft.Template.Segments.Count));
        // No title, no segments, no standard of that name.
        Assert.Equal(3, draft.Problems.Count);
        var line = Assert.Single(await chief.DrillsAsync(Cancel), d => d.Slug == "half-done");
        Assert.Equal(("draft", 2, 0, 0.0, 0), (line.State, line.Problems, line.Level, line.DurationS, line.SegmentCount));
        await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => chief.PublishDraftAsync("half-done", ct: Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => chief.TimelineAsync("half-done", 0, ct: Cancel));

        // As before, without the word unfinished.
        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        await (await http.PutAsync("/api/v1/drills/half-done/draft", Body(typed), Cancel)).ProblemAsync(HttpStatusCode.UnprocessableEntity);

        var finished = await chief.SaveDraftAsync("half-done", Draft("half-done", 30), draft.Revision, Cancel);
        Assert.Empty(finished.Problems);
        // Only what was seen is published.
        await Refusals.RefusedAsync(HttpStatusCode.PreconditionFailed, () => chief.PublishDraftAsync("half-done", 1, Cancel));
        Assert.Equal(1, (await chief.PublishDraftAsync("half-done", finished.Revision, Cancel)).Version);

        // Published since: who still edits is told, and a new draft has a number of its own.
        var refusal = await Refusals.RefusedAsync(
            HttpStatusCode.PreconditionFailed,
            () => chief.SaveDraftAsync("half-done", Draft("half-done", 31), finished.Revision, Cancel)
        );
        Assert.Contains("version 1", refusal.Message, StringComparison.Ordinal);
        var next = await chief.SaveDraftAsync("half-done", Draft("half-done", 31), 0, Cancel);
        Assert.Equal((3, 1), (next.Revision, next.BasedOnVersion));
    }

    [Fact]
    public async Task A_discarded_draft_can_be_taken_up_again()
    {
        var (chief, instructor) = await EditorsAsync();
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => chief.DraftAsync("thrown-away", Cancel));
        await chief.CreateDraftAsync(Draft("thrown-away", 30), Cancel);
        await chief.SaveDraftAsync("thrown-away", Draft("thrown-away", 45), 1, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.PreconditionFailed, () => instructor.DiscardDraftAsync("thrown-away", 1, Cancel));
        await instructor.DiscardDraftAsync("thrown-away", 2, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => chief.DiscardDraftAsync("thrown-away", ct: Cancel));
        Assert.DoesNotContain(await chief.DrillsAsync(Cancel), d => d.Slug == "thrown-away");
        var refusal = await Refusals.RefusedAsync(
            HttpStatusCode.PreconditionFailed,
            () => chief.SaveDraftAsync("thrown-away", Draft("thrown-away", 50), 2, Cancel)
        );
        Assert.Contains("The instructor discarded", refusal.Message, StringComparison.Ordinal);

        var kept = await chief.DraftRevisionsAsync("thrown-away", Cancel);
        Assert.Equal([(2, true, "The instructor"), (1, false, "The chief")], kept.Select(r => (r.Revision, r.Discarded, r.ReplacedBy)));
        var old = await chief.DraftRevisionAsync("thrown-away", 2, Cancel);
        Assert.Equal(3, (await chief.SaveDraftAsync("thrown-away", old.Template, 0, Cancel)).Revision);
        var trail = await app.QueryAsync(db => db.AuditEntries.Where(e => e.Action == "drill-draft-discarded").ToListAsync(Cancel));
        Assert.Contains(trail, e => e.PersonId == app.IdOf(SchoolsFixture.Instructor) && e.Detail == "thrown-away draft 2");
    }

    [Fact]
    public async Task Instructors_draft_where_the_school_says_so_and_never_publish_or_retire()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var instructor = await app.AsAsync(SchoolsFixture.SecondInstructor);
        var student = await app.AsAsync(SchoolsFixture.Student);
        await AllowAsync(false);
        await chief.CreateDraftAsync(Draft("the-chiefs", 30), Cancel);
        var refusal = await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => instructor.DraftAsync("the-chiefs", Cancel));
        Assert.Contains("chief instructor", refusal.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(await instructor.DrillsAsync(Cancel), d => d.Slug == "the-chiefs");
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => instructor.DrillAsync("the-chiefs", 0, Cancel));

        await AllowAsync(true);
        Assert.Contains(await instructor.DrillsAsync(Cancel), d => d.Slug == "the-chiefs");
        Assert.Equal("the-chiefs", (await instructor.DrillAsync("the-chiefs", 0, Cancel)).Slug);
        Assert.Equal(2, (await instructor.SaveDraftAsync("the-chiefs", Draft("the-chiefs", 31), 1, Cancel)).Revision);
        await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => instructor.PublishDraftAsync("the-chiefs", ct: Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => instructor.RetireDrillAsync("the-chiefs", Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => student.DraftAsync("the-chiefs", Cancel));
        Assert.DoesNotContain(await student.DrillsAsync(Cancel), d => d.Slug == "the-chiefs");
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => student.DrillAsync("the-chiefs", 0, Cancel));

        // Settings sent by a program that does not know the word leave it as it is.
        var settings = await chief.SettingsAsync(Cancel);
        Assert.True((await chief.SaveSettingsAsync(settings with { InstructorsDraft = null }, Cancel)).InstructorsDraft);
    }

    [Fact]
    public async Task Another_school_has_drafts_of_its_own()
    {
        var (chief, _) = await EditorsAsync();
        await chief.CreateDraftAsync(Draft("ours", 30), Cancel);
        var far = await app.AsAsync(SchoolsFixture.FarChief);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => far.DraftAsync("ours", Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => far.DraftRevisionsAsync("ours", Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => far.DiscardDraftAsync("ours", ct: Cancel));
        Assert.Equal(1, (await far.CreateDraftAsync(Draft("ours", 60), Cancel)).Revision);
        Assert.Equal(30, (await chief.DraftAsync("ours", Cancel)).Template.Segments[0].DurationS);
    }

    [Fact]
    public async Task A_trial_judges_a_stored_recording_by_the_draft_and_keeps_nothing()
    {
        var (chief, instructor) = await EditorsAsync();
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        var flown = await chief.DrillAsync("timed-turns", ct: Cancel);
        await chief.SaveDraftAsync("timed-turns", flown, 0, Cancel);
        var reports = await app.QueryAsync(db => db.ScoreReports.CountAsync(Cancel));

        // The same drill gives the same share; stricter tolerances of the draft are what is judged by.
        var same = await instructor.TryDraftAsync("timed-turns", attemptId, Cancel);
        var stored = (await chief.AttemptAsync(attemptId, Cancel)).Score!;
        Assert.Equal(stored.Overall.WithinShare, same.Overall.WithinShare);
        Assert.Equal(0, same.Drill.Version);
        var strict = flown with
        {
            Segments = [.. flown.Segments.Select(s => s with { Tolerances = [new Tolerance(Parameter.Altitude, 1)] })],
        };
        await chief.SaveDraftAsync("timed-turns", strict, null, Cancel);
        var harder = await instructor.TryDraftAsync("timed-turns", attemptId, Cancel);
        Assert.All(
            harder.Segments.SelectMany(s => s.Deviations).Where(d => d.Parameter == Parameter.Altitude),
            d => Assert.Equal(1, d.Tolerance)
        );
        Assert.NotEqual(1, same.Segments[0].Deviations.First(d => d.Parameter == Parameter.Altitude).Tolerance);
        Assert.Equal(reports, await app.QueryAsync(db => db.ScoreReports.CountAsync(Cancel)));

        await chief.SaveDraftAsync("timed-turns", flown with { Segments = [] }, null, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => chief.TryDraftAsync("timed-turns", attemptId, Cancel));
        await chief.SaveDraftAsync("timed-turns", flown, null, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => chief.TryDraftAsync("timed-turns", Guid.NewGuid(), Cancel));
        var far = await app.AsAsync(SchoolsFixture.FarChief);
        await far.SaveDraftAsync("timed-turns", flown, 0, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => far.TryDraftAsync("timed-turns", attemptId, Cancel));
        await chief.DiscardDraftAsync("timed-turns", ct: Cancel);
    }

    [Fact]
    public async Task Drafts_that_were_saved_over_go_after_thirty_days_and_the_newest_five_hundred_stay()
    {
        var (chief, _) = await EditorsAsync();
        await chief.CreateDraftAsync(Draft("swept", 30), Cancel);
        await chief.SaveDraftAsync("swept", Draft("swept", 31), 1, Cancel);
        await chief.SaveDraftAsync("swept", Draft("swept", 32), 2, Cancel);
        var now = TimeProvider.System.GetUtcNow();
        await app.QueryAsync(async db =>
        {
            db.AddRange(Old("swept-old", now.AddDays(-31), 1), Old("swept-old", now.AddDays(-29), 2));
            db.AddRange(Enumerable.Range(1, DraftRevision.Most + 3).Select(n => Old("swept-many", now, n)));
            return await db.SaveChangesAsync(Cancel);
        });
        await using var scope = app.Services.CreateAsyncScope();
        await ActivatorUtilities.CreateInstance<DraftSweep>(scope.ServiceProvider).RunAsync(Cancel);
        Assert.Equal([2, 1], (await chief.DraftRevisionsAsync("swept", Cancel)).Select(r => r.Revision));
        Assert.Equal([2], (await chief.DraftRevisionsAsync("swept-old", Cancel)).Select(r => r.Revision));
        var many = (await chief.DraftRevisionsAsync("swept-many", Cancel)).Select(r => r.Revision).ToList();
        Assert.Equal((DraftRevision.Most, 4), (many.Count, many[^1]));

        DraftRevision Old(string slug, DateTimeOffset replaced, int revision) =>
            DraftRevision.Of(
                new DrillVersion
                {
                    SchoolId = app.TussockId,
                    Slug = slug,
                    Version = 0,
                    State = DrillState.Draft,
                    Template = Draft(slug, 30),
                    SavedAtUtc = replaced,
                    Revision = revision,
                },
                app.IdOf(SchoolsFixture.Chief),
                replaced,
                discarded: false
            );
    }

    /// <summary>The chief, and an instructor of the same school who may draft.</summary>
    private async Task<(SchoolDrillsClient Chief, SchoolDrillsClient Instructor)> EditorsAsync()
    {
        await AllowAsync(true);
        return (await app.AsAsync(SchoolsFixture.Chief), await app.AsAsync(SchoolsFixture.Instructor));
    }

    private async Task AllowAsync(bool instructorsDraft)
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var settings = await chief.SettingsAsync(Cancel);
        await chief.SaveSettingsAsync(settings with { InstructorsDraft = instructorsDraft }, Cancel);
    }

    private static async Task<HttpStatusCode?> StatusAsync<T>(Func<Task<T>> save)
    {
        try
        {
            await save();
            return null;
        }
        catch (ApiProblemException refused)
        {
            return refused.Status;
        }
    }

    internal static DrillTemplate Draft(string slug, double firstS) =>
        new()
        {
            Slug = slug,
            Title = "Short box",
            Purpose = "One side of the box, for a beginner.",
            StandardSlug = "instrument-rating",
            Entry = new DrillEntry(360, 3000, 90),
            Segments = [new Segment { Name = "Straight", DurationS = firstS }, new Segment { Name = "Turn", TurnDeg = 90 }],
        };

    internal static StringContent Body(DrillTemplate template) =>
        new(JsonSerializer.Serialize(template, EngineJson.Default.DrillTemplate), new MediaTypeHeaderValue("application/json"));
}
