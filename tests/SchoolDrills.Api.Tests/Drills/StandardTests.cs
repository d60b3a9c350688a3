using System.Net;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Api.Tests.Drills;

public sealed class StandardTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_next_edition_alters_no_verdict_given_and_an_old_attempt_is_scored_anew_by_the_edition_it_was_judged_by()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var given = await app.AssignAsync("timed-turns");
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        var before = (await chief.AttemptAsync(attemptId, Cancel)).Score!;
        var old = (await chief.StandardsAsync(Cancel)).Single(s => s.Slug == before.StandardSlug);
        var next = await chief.AddStandardAsync(
            old with
            {
                Slug = "strict-2",
                Supersedes = old.Slug,
                Edition = "2026",
                Tolerances = [.. old.Tolerances.Select(t => t with { Within = t.Within / 4 })],
            },
            Cancel
        );
        var published = Assert.Single(await chief.UseStandardAsync(next.Slug, ["timed-turns"], Cancel));
        Assert.Equal((2, "strict-2"), (published.Version, published.StandardSlug));
        // A drill that has it already is left alone.
        Assert.Empty(await chief.UseStandardAsync(next.Slug, ["timed-turns"], Cancel));
        var after = await chief.AttemptAsync(attemptId, Cancel);
        Assert.Equal(Written(before), Written(after.Score!));

        // Scored anew by another engine, as its sweep does: the same figures, the same verdicts.
        await app.QueryAsJobAsync(db =>
            db.Attempts.Where(a => a.Id == attemptId).ExecuteUpdateAsync(a => a.SetProperty(x => x.Revision, x => x.Revision + 1), Cancel)
        );
        await app.ScoreAsync(attemptId);
        var again = (await chief.AttemptAsync(attemptId, Cancel)).Score!;
        Assert.Equal(old.Slug, again.StandardSlug);
        Assert.Equal(Written(before), Written(again));

        // Work that was given keeps the edition it was given with; what is given from now on has the next.
        var oldWork = await app.UploadAsync(given.Id, "f13.csv");
        await app.ScoreAsync(oldWork);
        Assert.Equal(old.Slug, (await chief.AttemptAsync(oldWork, Cancel)).Score!.StandardSlug);
        var newWork = await app.ScoredAsync("timed-turns", "f13.csv");
        Assert.Equal("strict-2", (await chief.AttemptAsync(newWork, Cancel)).Score!.StandardSlug);

        var editions = await chief.StandardEditionsAsync(Cancel);
        var (first, second) = (editions.Single(e => e.Standard.Slug == old.Slug), editions.Single(e => e.Standard.Slug == "strict-2"));
        Assert.Equal((1, "strict-2", old.Slug), (first.Edition, first.SupersededBy, first.Line));
        Assert.Equal((2, null, old.Slug), (second.Edition, second.SupersededBy, second.Line));
        Assert.Equal((2, 1), (first.Attempts, second.Attempts));
        Assert.Equal(["timed-turns"], second.Drills.Select(d => d.Slug));
        Assert.DoesNotContain(first.Drills, d => d.Slug == "timed-turns");

        static string Written(ScoreReport report) =>
            string.Join(
                "; ",
                report.Segments.SelectMany(s =>
                    s.Deviations.Select(d => $"{s.Index} {d.Parameter} {d.Tolerance} {d.WithinShare} {d.Verdict}")
                )
            );
    }

    [Fact]
    public async Task Of_two_next_editions_of_one_standard_at_once_the_second_is_told()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        await chief.AddStandardAsync(Standard("line-1"), Cancel);
        var answers = await Task.WhenAll(
            Enumerable.Range(2, 4).Select(async n => await AddedAsync(Standard($"line-{n}") with { Supersedes = "line-1" }))
        );
        Assert.Equal((1, 3), (answers.Count(a => a is null), answers.Count(a => a is HttpStatusCode.Conflict)));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, await AddedAsync(Standard("line-9") with { Supersedes = "no-such-standard" }));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, await AddedAsync(Standard("line-9") with { Supersedes = "line-9" }));

        async Task<HttpStatusCode?> AddedAsync(ToleranceStandard standard)
        {
            try
            {
                await chief.AddStandardAsync(standard, Cancel);
                return null;
            }
            catch (ApiProblemException refused)
            {
                return refused.Status;
            }
        }
    }

    [Fact]
    public async Task A_standard_in_use_is_not_retired_and_a_retired_one_is_not_offered_until_it_is_taken_up_again()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var refusal = await Refusals.RefusedAsync(HttpStatusCode.Conflict, () => chief.RetireStandardAsync("instrument-rating", Cancel));
        Assert.Contains("judged by it", refusal.Message, StringComparison.Ordinal);
        await chief.AddStandardAsync(Standard("rarely-used"), Cancel);
        await chief.RetireStandardAsync("rarely-used", Cancel);
        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        Assert.DoesNotContain("rarely-used", await http.GetStringAsync("/api/v1/standards?offered=true", Cancel), StringComparison.Ordinal);
        Assert.Contains(await chief.StandardsAsync(Cancel), s => s.Slug == "rarely-used");
        await Refusals.RefusedAsync(HttpStatusCode.Conflict, () => chief.UseStandardAsync("rarely-used", ["racetrack"], Cancel));
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => app.AssignAsync("racetrack", overrides: new AssignmentOverrides(StandardSlug: "rarely-used"))
        );
        await chief.ReinstateStandardAsync("rarely-used", Cancel);
        await app.AssignAsync("racetrack", overrides: new AssignmentOverrides(StandardSlug: "rarely-used"));
        Assert.Equal(1, (await chief.StandardEditionsAsync(Cancel)).Single(e => e.Standard.Slug == "rarely-used").OpenAssignments);
    }

    [Fact]
    public async Task An_earlier_edition_is_not_offered_until_the_next_one_is_retired()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        await chief.AddStandardAsync(Standard("yearly-1"), Cancel);
        await chief.AddStandardAsync(Standard("yearly-2") with { Supersedes = "yearly-1" }, Cancel);
        Assert.Equal(["yearly-2"], await OfferedAsync());
        await chief.RetireStandardAsync("yearly-2", Cancel);
        Assert.Equal(["yearly-1"], await OfferedAsync());
        Assert.Equal(2, (await chief.StandardsAsync(Cancel)).Count(s => s.Slug.StartsWith("yearly", StringComparison.Ordinal)));

        async Task<IEnumerable<string>> OfferedAsync() =>
            (await chief.OfferedStandardsAsync(Cancel)).Select(s => s.Slug).Where(s => s.StartsWith("yearly", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Drills_that_are_none_are_refused_by_name()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var refusal = await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.UseStandardAsync("instrument-rating", ["racetrack", "no-such-drill"], Cancel)
        );
        Assert.Contains("no-such-drill", refusal.Message, StringComparison.Ordinal);
        await Refusals.RefusedAsync(HttpStatusCode.BadRequest, () => chief.UseStandardAsync("instrument-rating", [], Cancel));
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        await Refusals.RefusedAsync(
            HttpStatusCode.Forbidden,
            () => instructor.UseStandardAsync("instrument-rating", ["racetrack"], Cancel)
        );
    }

    [Fact]
    public async Task An_aircraft_profile_is_kept_by_version_and_a_plan_keeps_the_one_it_was_made_with()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var first = Catalogue.Aircraft[0] with { Slug = "plane-of-versions" };
        await chief.SaveAircraftAsync(first, Cancel);
        var given = await app.AssignAsync("box-circles");
        var kept = await chief.SavePlanAsync(given.Id, new SavePlan(new PlanDrill(first.Slug)), Cancel);
        Assert.Equal(1, kept.Asked.AircraftVersion);

        var slower = first with { SeaLevelClimbFpm = 300, ClimbTable = [new(0, 300), new(4_000, 150), new(8_000, 20)] };
        await chief.SaveAircraftAsync(slower, Cancel);
        Assert.Equal(300, (await chief.AircraftAsync(Cancel)).Single(a => a.Slug == first.Slug).SeaLevelClimbFpm);
        var versions = (await chief.AircraftVersionsAsync(Cancel)).Where(a => a.Profile.Slug == first.Slug).ToList();
        Assert.Equal([(2, "The chief"), (1, "The chief")], versions.Select(v => (v.Version, v.SavedBy)));
        Assert.Equal(first.SeaLevelClimbFpm, versions[1].Profile.SeaLevelClimbFpm);

        // The plan that is kept comes out as it did; one made now takes the new figures.
        var again = (await chief.AssignmentAsync(given.Id, Cancel)).Plan!.Asked;
        Assert.Equal(1, again.AircraftVersion);
        var (old, now) = (
            await chief.PlanAsync("box-circles", again, Cancel),
            await chief.PlanAsync("box-circles", new(first.Slug), Cancel)
        );
        Assert.NotEqual(old.ClimbWhy, now.ClimbWhy);
        Assert.Equal(old.ClimbWhy, (await chief.PlanAsync("box-circles", again with { AircraftVersion = 1 }, Cancel)).ClimbWhy);
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.PlanAsync("box-circles", new(first.Slug, AircraftVersion: 9), Cancel)
        );

        await chief.RetireAircraftAsync(first.Slug, Cancel);
        Assert.DoesNotContain(await chief.AircraftAsync(Cancel), a => a.Slug == first.Slug);
        await chief.SaveAircraftAsync(slower, Cancel);
        Assert.Contains(await chief.AircraftAsync(Cancel), a => a.Slug == first.Slug);
    }

    private static ToleranceStandard Standard(string slug) =>
        new()
        {
            Slug = slug,
            Title = "A school standard",
            Source = "The school's training manual.",
            Basis = "school",
            Tolerances = [new Tolerance(Parameter.Altitude, 100)],
        };
}
