using System.Net;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Drills;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Api.Tests.Assignments;

/// <summary>Several drills at once, the conditions of an assignment, and what an instructor sees before assigning.</summary>
public sealed class AssigningTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static readonly DateOnly Due = new(2031, 5, 1);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private Guid Student => app.IdOf(SchoolsFixture.Student);

    private Guid OtherStudent => app.IdOf(SchoolsFixture.OtherStudent);

    [Fact]
    public async Task Several_drills_are_one_assignment_for_each_student_and_drill_in_the_order_given()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var made = await instructor.AssignAsync(
            new CreateAssignment([Student, OtherStudent], null, Due, DrillSlugs: ["racetrack", "box-circles", "racetrack"]),
            Cancel
        );
        Assert.Equal(4, made.Count);
        Assert.All(made, a => Assert.False(a.WasOpen));
        Assert.Equal(
            ["racetrack", "box-circles"],
            made.Where(a => a.StudentId == OtherStudent).OrderBy(a => a.AssignedAtUtc).Select(a => a.DrillSlug)
        );
        var seen = await (await app.AsAsync(SchoolsFixture.OtherStudent)).AssignmentsAsync(ct: Cancel);
        Assert.Equal(2, seen.Count(a => made.Any(m => m.Id == a.Id)));
    }

    [Fact]
    public async Task Of_several_drills_one_that_is_none_is_named_and_nothing_is_assigned()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var before = (await instructor.AssignmentsAsync(Student, ct: Cancel)).Count;
        var refusal = await RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            new CreateAssignment([Student], null, Due, DrillSlugs: ["racetrack", "no-such-drill"])
        );
        Assert.Equal("There is no published drill 'no-such-drill'.", refusal.Message);
        refusal = await RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            new CreateAssignment([Student, Guid.CreateVersion7()], "racetrack", Due)
        );
        Assert.Equal("At least one of studentIds is not an active student of this school.", refusal.Message);
        refusal = await RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            new CreateAssignment(
                [Student],
                null,
                Due,
                Overrides: new AssignmentOverrides(AirspeedKt: -5),
                DrillSlugs: ["racetrack", "box-circles"]
            )
        );
        Assert.StartsWith("Racetrack: ", refusal.Message, StringComparison.Ordinal);
        await RefusedAsync(HttpStatusCode.BadRequest, new CreateAssignment([Student], null, Due));
        await RefusedAsync(
            HttpStatusCode.BadRequest,
            new CreateAssignment([Student], null, Due, DrillSlugs: [.. Enumerable.Range(0, 21).Select(n => $"drill-{n}")])
        );
        Assert.Equal(before, (await instructor.AssignmentsAsync(Student, ct: Cancel)).Count);
    }

    [Fact]
    public async Task Unless_open_leaves_out_the_pairs_that_are_there_and_names_them()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        await app.NewcomerAsync("once", Roles.Student);
        var once = app.IdOf("once");
        var first = Assert.Single(await instructor.AssignAsync(new CreateAssignment([once], "timed-turns", Due), Cancel));
        await app.NewcomerAsync("twice", Roles.Student);
        var asked = new CreateAssignment(
            [once, app.IdOf("twice")],
            null,
            Due,
            UnlessOpen: true,
            DrillSlugs: ["timed-turns", "box-circles"]
        );

        var answer = await instructor.AssignAsync(asked, Cancel);
        Assert.Equal((first.Id, 3), (Assert.Single(answer, a => a.WasOpen).Id, answer.Count(a => !a.WasOpen)));
        Assert.All(await instructor.AssignAsync(asked, Cancel), a => Assert.True(a.WasOpen));

        // However many ask at once, in whichever order, each pair is there once.
        await app.NewcomerAsync("crowded", Roles.Student);
        var answers = await Task.WhenAll(
            Enumerable
                .Range(0, 8)
                .Select(n =>
                    instructor.AssignAsync(
                        asked with
                        {
                            StudentIds = [app.IdOf("crowded")],
                            DrillSlugs = n % 2 == 0 ? ["timed-turns", "box-circles"] : ["box-circles", "timed-turns"],
                        },
                        Cancel
                    )
                )
        );
        Assert.Equal(2, answers.Sum(a => a.Count(x => !x.WasOpen)));
        Assert.Equal(2, (await instructor.AssignmentsAsync(app.IdOf("crowded"), ct: Cancel)).Count);
    }

    [Fact]
    public async Task Half_rate_doubles_the_time_of_turns_and_is_left_out_where_a_drill_does_not_turn()
    {
        await app.QueryAsync(db =>
        {
            db.DrillVersions.Add(
                new DrillVersion
                {
                    SchoolId = app.TussockId,
                    Slug = "change-of-airspeed",
                    Version = 1,
                    State = DrillState.Published,
                    Template = Catalogue.Templates.Single(t => t.Slug == "change-of-airspeed") with { Version = 1 },
                    SavedAtUtc = DateTimeOffset.UnixEpoch,
                }
            );
            return db.SaveChangesAsync(Cancel);
        });
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var made = await instructor.AssignAsync(
            new CreateAssignment(
                [Student],
                null,
                Due,
                Overrides: new AssignmentOverrides(HalfRate: true),
                DrillSlugs: ["racetrack", "change-of-airspeed"]
            ),
            Cancel
        );
        Assert.Null(made.Single(a => a.DrillSlug == "change-of-airspeed").Overrides);
        var set = made.Single(a => a.DrillSlug == "racetrack").Overrides;
        Assert.Equal(new AssignmentOverrides(HalfRate: true), set);

        // 180° at 1.5°/s is 2 min: 3 min, 2 min, 1 min, 2 min, 1 min.
        var timeline = await instructor.TimelineAsync("racetrack", entry: set, ct: Cancel);
        Assert.Equal([180.0, 120, 60, 120, 60], timeline.Segments.Select(s => s.EndS - s.StartS));
        Assert.Equal([1.5, 1.5], timeline.Segments.Select(s => Math.Abs(s.TurnRateDegPerS)).Where(r => r > 0));
    }

    [Fact]
    public async Task An_aeroplane_of_another_school_or_a_retired_one_is_refused()
    {
        var plane = Catalogue.Aircraft[0];
        await (await app.AsAsync(SchoolsFixture.FarChief)).SaveAircraftAsync(plane with { Slug = "far-away-two" }, Cancel);
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        await chief.SaveAircraftAsync(plane with { Slug = "sold-two" }, Cancel);
        await app.AssignAsync("racetrack", overrides: new AssignmentOverrides(Aircraft: "sold-two"));
        await chief.RetireAircraftAsync("sold-two", Cancel);
        foreach (var slug in (string[])["far-away-two", "sold-two"])
        {
            var refusal = await RefusedAsync(
                HttpStatusCode.UnprocessableEntity,
                new CreateAssignment([Student], "racetrack", Due, Overrides: new AssignmentOverrides(Aircraft: slug))
            );
            Assert.Equal($"The school has no aircraft profile '{slug}', or has retired it.", refusal.Message);
        }
    }

    [Fact]
    public async Task The_planned_wind_stays_with_the_assignment_and_is_whole()
    {
        var set = new AssignmentOverrides(WindFromDegTrue: 290, WindKt: 15);
        var assignment = await app.AssignAsync("racetrack", overrides: set);
        Assert.Equal(set, (await (await app.AsAsync(SchoolsFixture.Student)).AssignmentAsync(assignment.Id, Cancel)).Overrides);
        foreach (
            var half in (AssignmentOverrides[])[set with { WindKt = null }, set with { WindKt = 900 }, set with { WindFromDegTrue = 400 }]
        )
        {
            await RefusedAsync(HttpStatusCode.UnprocessableEntity, new CreateAssignment([Student], "racetrack", Due, Overrides: half));
        }
    }

    [Fact]
    public async Task Before_assigning_the_last_attempt_and_what_is_open_are_seen_at_once()
    {
        await app.ScoredAsync("timed-turns", "f13.csv");
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var newest = (await instructor.AttemptsAsync(Student, "timed-turns", ct: Cancel)).Items.MaxBy(a => a.FlownAtUtc)!;
        var open = await app.AssignAsync("vertical-s-turning");

        var before = await instructor.BeforeAssigningAsync([Student, OtherStudent], ["timed-turns", "vertical-s-turning"], Cancel);
        Assert.Equal(4, before.Count);
        var turns = before.Single(b => b.StudentId == Student && b.DrillSlug == "timed-turns");
        Assert.Equal(
            (newest.Verdict, newest.WithinShare, newest.FlownAtUtc),
            (turns.Last!.Verdict, turns.Last.WithinShare, turns.Last.FlownAtUtc)
        );
        Assert.NotEmpty(turns.Last.Ribbon);
        Assert.Equal(open.Id, before.Single(b => b.StudentId == Student && b.DrillSlug == "vertical-s-turning").Open!.Id);
        Assert.All(before.Where(b => b.StudentId == OtherStudent && b.DrillSlug == "vertical-s-turning"), b => Assert.Null(b.Last));
        await instructor.CancelAssignmentAsync(open.Id, Cancel);
        Assert.Null(Assert.Single(await instructor.BeforeAssigningAsync([Student], ["vertical-s-turning"], Cancel)).Open);

        // Of another school nothing is seen, and no more is answered at once than a page shows.
        var far = await (await app.AsAsync(SchoolsFixture.FarChief)).BeforeAssigningAsync([Student], ["timed-turns"], Cancel);
        Assert.All(far, b => Assert.Equal((null, null), (b.Last, b.Open)));
        Assert.Empty(await instructor.BeforeAssigningAsync([Student], [], Cancel));
        await Refusals.RefusedAsync(
            HttpStatusCode.BadRequest,
            () => instructor.BeforeAssigningAsync([Student, OtherStudent], [.. Enumerable.Range(0, 101).Select(n => $"drill-{n}")], Cancel)
        );
    }

    [Fact]
    public async Task Several_are_taken_back_at_once_or_none()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var (one, two) = (await app.AssignAsync("racetrack"), await app.AssignAsync("box-circles"));
        await Refusals.RefusedAsync(
            HttpStatusCode.NotFound,
            () => instructor.CancelAssignmentsAsync([one.Id, Guid.CreateVersion7()], Cancel)
        );
        await Refusals.RefusedAsync(HttpStatusCode.BadRequest, () => instructor.CancelAssignmentsAsync([], Cancel));
        Assert.Contains(one.Id, (await instructor.AssignmentsAsync(ct: Cancel)).Select(a => a.Id));
        await instructor.CancelAssignmentsAsync([one.Id, two.Id], Cancel);
        await instructor.CancelAssignmentsAsync([one.Id, two.Id], Cancel);
        Assert.Empty((await instructor.AssignmentsAsync(ct: Cancel)).Select(a => a.Id).Intersect([one.Id, two.Id]));
        Assert.Equal(
            2,
            await app.QueryAsync(db =>
                db.AuditEntries.CountAsync(
                    e => e.Action == "assignment-cancelled" && (e.SubjectId == one.Id || e.SubjectId == two.Id),
                    Cancel
                )
            )
        );
    }

    private async Task<ApiProblemException> RefusedAsync(HttpStatusCode status, CreateAssignment asked)
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        return await Refusals.RefusedAsync(status, () => instructor.AssignAsync(asked, Cancel));
    }
}
