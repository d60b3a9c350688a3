using System.Net;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Api.Tests.Progress;

/// <summary>Stages of training, readiness, and the aircraft that keeps unlike attempts apart.</summary>
public sealed class StageTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_new_school_has_the_starter_stages_of_the_drills_it_has_and_a_chief_may_set_others()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var starter = await chief.StagesAsync(Cancel);
        Assert.True(starter.Starter);
        Assert.Equal(["timed-turns"], starter.Stages[0].Drills.Select(d => d.DrillSlug));
        Assert.All(starter.Stages.SelectMany(s => s.Drills), d => Assert.Equal((2, 3), (d.Met, d.Newest)));

        var own = new SchoolStages([
            new("first", " First ", [new("timed-turns", 1, 1)]),
            new("second", "Second", [new("racetrack", 1, 2), new("box-circles", 2, 3)]),
        ]);
        var saved = await chief.SaveStagesAsync(own, Cancel);
        Assert.False(saved.Starter);
        Assert.Equal(["First", "Second"], saved.Stages.Select(s => s.Title));
        Assert.Equal(saved.Stages.Count, (await (await app.AsAsync(SchoolsFixture.Instructor)).StagesAsync(Cancel)).Stages.Count);
        var trail = (await chief.AuditAsync(what: "stages-changed", ct: Cancel)).Items[0];
        Assert.Contains(trail.Changes, c => c.Field == "stages" && c.After!.Contains("racetrack", StringComparison.Ordinal));

        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.SaveStagesAsync(new([new("a", "A", [new("no-such-drill", 1, 1)])]), Cancel)
        );
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.SaveStagesAsync(new([new("a", "A", [new("racetrack", 3, 2)])]), Cancel)
        );
        Assert.True((await chief.SaveStagesAsync(new([]), Cancel)).Starter);
    }

    [Fact]
    public async Task Readiness_names_the_first_stage_of_which_something_is_missing_and_shows_the_newest_attempts()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        await chief.SaveStagesAsync(new([new("only", "Only", [new("timed-turns", 1, 2), new("racetrack", 1, 1)])]), Cancel);
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        var verdict = (await chief.AttemptAsync(attemptId, Cancel)).Score!.Overall.Verdict;
        await (await app.AsAsync(SchoolsFixture.Instructor)).SaveGradeAsync(attemptId, new("to-standard", [], null, true), Cancel);

        var readiness = await chief.ReadinessAsync(ct: Cancel);
        var student = Assert.Single(readiness.Students, s => s.StudentId == app.IdOf(SchoolsFixture.Student));
        Assert.Equal(("only", false), (student.StageSlug, student.Ready));
        Assert.Equal(verdict == Verdict.Met, student.Drills[0].Ready);
        Assert.Contains(student.Drills[0].Evidence, e => e.AttemptId == attemptId && e.Graded && e.Verdict == verdict);
        Assert.Equal("not flown yet; 1 of the last 1 have to be met", student.Drills[1].Missing);
        Assert.Contains(readiness.Drills, d => d.DrillSlug == "racetrack");
        Assert.Equal(("only", readiness.Total), (Assert.Single(readiness.Counts).StageSlug, readiness.Counts[0].Students));
        await chief.SaveStagesAsync(new([]), Cancel);
    }

    [Fact]
    public async Task Readiness_is_twenty_a_page_with_counts_of_all_and_follows_every_new_attempt()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        await chief.SaveStagesAsync(
            new([new("one", "One", [new("timed-turns", 1, 1)]), new("two", "Two", [new("racetrack", 1, 1)])]),
            Cancel
        );
        foreach (var number in Enumerable.Range(1, 21))
        {
            var email = $"stage-paged-{number}@tussockplains.example";
            await chief.InviteAsync(new InvitePerson($"Stage paged {number:00}", email, [Roles.Student]), Cancel);
        }

        await app.NewcomerAsync("stage-mover", Roles.Student);
        var mover = app.IdOf("stage-mover");
        var all = await chief.ReadinessAsync("one", ct: Cancel);
        var second = await chief.ReadinessAsync("one", 2, Cancel);
        Assert.Equal((20, all.Total, 2), (all.Students.Count, all.Counts[0].Students, second.Page));
        Assert.InRange(all.Total, 22, 40);
        var shown = all.Students.Concat(second.Students).ToList();
        Assert.Equal(all.Total, shown.Select(s => s.StudentId).Distinct().Count());
        Assert.False(shown.Single(s => s.StudentId == mover).Ready);
        // Ready is only who has met the last stage too.
        Assert.Equal(0, all.Counts[0].Ready);

        // Met in the stage's only drill, he stands at the next; what was concluded before no longer counts.
        var attemptId = await app.UploadAsync((await app.AssignAsync("timed-turns", "stage-mover")).Id, "f13.csv", student: "stage-mover");
        await app.ScoreAsync(attemptId);
        await VerdictAsync(attemptId, Verdict.Met);
        var moved = await chief.ReadinessAsync("two", ct: Cancel);
        Assert.Contains(moved.Students, s => s.StudentId == mover);
        Assert.Equal([all.Counts[0].Students - 1, all.Counts[1].Students + 1], moved.Counts.Select(c => c.Students));
        var stages = (await chief.SchoolOverviewAsync(ct: Cancel)).Period!.Stages;
        Assert.Equal(moved.Counts.Select(c => c.Students), stages.Select(s => s.Students));
        await VerdictAsync(attemptId, Verdict.NotMet);
        Assert.DoesNotContain((await chief.ReadinessAsync("two", ct: Cancel)).Students, s => s.StudentId == mover);

        Assert.Equal(0, (await chief.ReadinessAsync("no-such", ct: Cancel)).Total);
        await Refusals.RefusedAsync(HttpStatusCode.BadRequest, () => chief.ReadinessAsync(page: 0, ct: Cancel));
        await chief.SaveStagesAsync(new([]), Cancel);
    }

    private Task<int> VerdictAsync(Guid attemptId, Verdict verdict) =>
        app.QueryAsJobAsync(db =>
            db.Attempts.Where(a => a.Id == attemptId).ExecuteUpdateAsync(a => a.SetProperty(x => x.Verdict, verdict), Cancel)
        );

    [Fact]
    public async Task An_attempt_is_flown_in_the_aircraft_of_its_upload_else_of_its_assignment()
    {
        await app.AddAircraftAsync();
        var assignment = await app.AssignAsync("racetrack", overrides: new AssignmentOverrides(Aircraft: "tussock-two"));
        var byAssignment = await app.UploadAsync(assignment.Id, "f12.csv");
        await app.ScoreAsync(byAssignment);
        var other = await app.AssignAsync("racetrack", overrides: new AssignmentOverrides(Aircraft: "tussock-two"));
        await app.ScoreAsync(await app.UploadAsync(other.Id, "f12.csv", new AttemptMeta { Aircraft = "tussock-four" }));

        var student = await app.AsAsync(SchoolsFixture.Student);
        var progress = await student.ProgressAsync(app.IdOf(SchoolsFixture.Student), Cancel);
        var aircraft = progress.Parameters.Where(p => p.Group.DrillSlug == "racetrack").Select(p => p.Group.Aircraft).Distinct();
        Assert.Equal(["tussock-four", "tussock-two"], aircraft.Order());
        var period = (await (await app.AsAsync(SchoolsFixture.Chief)).SchoolOverviewAsync(3660, Cancel)).Period!;
        Assert.Contains(period.Aircraft, a => a is { Aircraft: "tussock-two", AircraftTitle: not null, Students: 1 });

        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => app.UploadAsync(other.Id, "f12.csv", new AttemptMeta { Aircraft = "no-such" })
        );
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => app.AssignAsync("racetrack", overrides: new AssignmentOverrides(Aircraft: "no-such"))
        );
    }

    [Fact]
    public async Task The_overview_of_a_period_counts_what_was_flown_and_the_files_say_the_same()
    {
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var overview = await chief.SchoolOverviewAsync(3660, Cancel);
        var drill = Assert.Single(overview.Period!.Drills, d => d.DrillSlug == "timed-turns");
        Assert.Equal(overview.Drills.Single(d => d.DrillSlug == "timed-turns").Attempts, drill.Share.Attempts);
        Assert.Contains(overview.Period.NotFlown, d => d.DrillSlug == "vertical-s-turning");
        Assert.Contains(overview.Period.Instructors, i => i.InstructorId == app.IdOf(SchoolsFixture.Instructor) && i.Assigned > 0);
        Assert.Contains(overview.Ageing, a => a is { What: "ungraded", Count: > 0 });
        Assert.All(overview.Period.Segments, s => Assert.Equal(s.Share.Attempts < 3, s.Share.Reason is not null));
        await Refusals.RefusedAsync(HttpStatusCode.BadRequest, () => chief.SchoolOverviewAsync(0, Cancel));

        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        var csv = await http.GetStringAsync("/api/v1/school/overview.csv?days=3660", Cancel);
        Assert.Contains($"drill,{drill.DrillTitle},timed-turns", csv, StringComparison.Ordinal);
        var attempts = await http.GetStringAsync("/api/v1/school/attempts.csv", Cancel);
        var results = (await chief.AttemptAsync(attemptId, Cancel)).Score!.Segments.Where(s => s.Status != SegmentStatus.Skipped);
        Assert.Equal(
            results.Sum(s => s.Deviations.Count),
            attempts.Split('\n').Count(l => l.StartsWith($"{attemptId}", StringComparison.Ordinal))
        );
        Assert.Contains(
            $"{attemptId}",
            await http.GetStringAsync("/api/v1/school/attempts.json?from=2000-01-01", Cancel),
            StringComparison.Ordinal
        );
    }
}
