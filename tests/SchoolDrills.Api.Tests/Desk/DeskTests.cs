using System.Net;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Desk;

/// <summary>What waits for an instructor. Each test has an instructor of its own, whose students are its own.</summary>
public sealed class DeskTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static DateOnly Today => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(DateTimeOffset.UtcNow, Zone).DateTime);

    private static TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById("Pacific/Auckland");

    [Fact]
    public async Task What_has_waited_longest_is_first_whoever_flew_it_and_the_rest_is_counted()
    {
        var instructor = await app.NewcomerAsync("patient", Roles.Instructor);
        Guid a = await StudentOfAsync(instructor, "waits-a"),
            b = await StudentOfAsync(instructor, "waits-b");
        var late = await FlownAsync(b, daysAgo: 2);
        var early = await FlownAsync(a, daysAgo: 9);
        var middle = await FlownAsync(a, daysAgo: 4);
        var desk = await instructor.DeskAsync(ct: Cancel);
        Assert.True(desk.Mine);
        Assert.Equal([early, middle, late], desk.ToGrade.Rows.Select(r => r.Attempt!.AttemptId));
        var cut = await instructor.DeskAsync(rows: 2, ct: Cancel);
        Assert.Equal([early, middle], cut.ToGrade.Rows.Select(r => r.Attempt!.AttemptId));
        Assert.Equal(3, cut.ToGrade.Total);
        await Refusals.RefusedAsync(HttpStatusCode.BadRequest, () => instructor.DeskAsync(rows: 101, ct: Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.BadRequest, () => instructor.DeskAsync(rows: 0, ct: Cancel));
    }

    [Fact]
    public async Task Mine_are_my_students_all_are_the_schools_and_the_chief_is_shown_all()
    {
        var (mine, other) = (await app.NewcomerAsync("own-desk", Roles.Instructor), await app.NewcomerAsync("else-desk", Roles.Instructor));
        var (attempt, elsewhere) = (
            await FlownAsync(await StudentOfAsync(mine, "on-own-desk"), daysAgo: 700),
            await FlownAsync(await StudentOfAsync(other, "on-else-desk"), daysAgo: 701)
        );
        Assert.Equal(attempt, Assert.Single((await mine.DeskAsync(ct: Cancel)).ToGrade.Rows).Attempt!.AttemptId);
        // What waits longest of all: no other test has anything as old.
        var all = await mine.DeskAsync(mine: false, ct: Cancel);
        Assert.Equal([elsewhere, attempt], all.ToGrade.Rows.Take(2).Select(r => r.Attempt!.AttemptId));
        Assert.Null(all.FlownThisMonth);
        var chief = await (await app.AsAsync(SchoolsFixture.Chief)).DeskAsync(ct: Cancel);
        Assert.Equal((false, true), (chief.Mine, chief.FlownThisMonth is not null));
        Assert.Equal(elsewhere, chief.ToGrade.Rows[0].Attempt!.AttemptId);
        var far = await (await app.AsAsync(SchoolsFixture.FarChief)).DeskAsync(ct: Cancel);
        Assert.Empty(far.ToGrade.Rows);
    }

    [Fact]
    public async Task What_is_overdue_or_due_this_week_comes_with_who_gave_it_and_how_the_drill_went_last()
    {
        var instructor = await app.NewcomerAsync("due-desk", Roles.Instructor);
        var student = await StudentOfAsync(instructor, "has-due");
        await FlownAsync(student, daysAgo: 20);
        var newest = await FlownAsync(student, daysAgo: 10);
        await GiveAsync("timed-turns", Today.AddDays(-3));
        await GiveAsync("racetrack", Today.AddDays(-5));
        await GiveAsync("timed-turns", Today.AddDays(7));
        await GiveAsync("racetrack", Today.AddDays(8));
        await GiveAsync("racetrack", null);
        var cancelled = await GiveAsync("racetrack", Today);
        await instructor.CancelAssignmentAsync(cancelled.Id, Cancel);
        var desk = await instructor.DeskAsync(ct: Cancel);
        Assert.Equal(["racetrack", "timed-turns"], desk.Overdue.Rows.Select(r => r.Assignment!.DrillSlug));
        Assert.Equal(Today.AddDays(7), Assert.Single(desk.DueSoon.Rows).Assignment!.DueOn);
        Assert.All(desk.Overdue.Rows, r => Assert.Equal("The due-desk", r.Instructor));
        Assert.Equal([null, newest], desk.Overdue.Rows.Select(r => r.LastAttempt?.AttemptId));
        Assert.Equal(newest, desk.DueSoon.Rows[0].LastAttempt!.AttemptId);

        async Task<AssignmentSummary> GiveAsync(string drill, DateOnly? dueOn) =>
            Assert.Single(await instructor.AssignAsync(new CreateAssignment([student], drill, dueOn), Cancel));
    }

    [Fact]
    public async Task A_recording_that_cannot_be_scored_is_on_the_desk_until_another_comes_and_a_signed_grade_takes_one_off()
    {
        var instructor = await app.NewcomerAsync("sorting-desk", Roles.Instructor);
        var student = await StudentOfAsync(instructor, "unscorable-one");
        var asked = new CreateAssignment([student], "timed-turns", Today.AddDays(-1));
        var given = Assert.Single(await instructor.AssignAsync(asked, Cancel));
        var unscorable = await FlownAsync(student, daysAgo: 3, "unscorable", given.Id);
        var desk = await instructor.DeskAsync(ct: Cancel);
        Assert.Equal(unscorable, Assert.Single(desk.Unscorable.Rows).Attempt!.AttemptId);
        Assert.Empty(desk.Overdue.Rows);
        var scored = await FlownAsync(student, daysAgo: 1, assignmentId: given.Id);
        desk = await instructor.DeskAsync(ct: Cancel);
        Assert.Empty(desk.Unscorable.Rows);
        Assert.Equal((scored, "The sorting-desk"), (desk.ToGrade.Rows[0].Attempt!.AttemptId, desk.ToGrade.Rows[0].Instructor));
        await using (var sql = await JobAsync())
        {
            await sql.ExecuteAsync(
                $"""
                insert into grades (id, school_id, attempt_id, number, instructor_id, overall, segments, saved_at_utc, signed_at_utc)
                values ('{Guid.CreateVersion7()}', '{app.TussockId}', '{scored}', 0, '{app.IdOf("sorting-desk")}', 'to-standard', '[]',
                  now(), now())
                """
            );
        }

        desk = await instructor.DeskAsync(ct: Cancel);
        Assert.Empty(desk.ToGrade.Rows);
        Assert.Equal(scored, Assert.Single(desk.Graded).AttemptId);
    }

    /// <summary>A student to whom this instructor gave a drill without a day.</summary>
    private async Task<Guid> StudentOfAsync(SchoolDrillsClient instructor, string name)
    {
        await app.NewcomerAsync(name, Roles.Student);
        await instructor.AssignAsync(new CreateAssignment([app.IdOf(name)], "box-circles", null), Cancel);
        return app.IdOf(name);
    }

    private async Task<RawSql> JobAsync()
    {
        var sql = await RawSql.OpenAsync(app.Database.OwnerConnectionString);
        await sql.EnterAsync(app.TussockId, null, "jobs");
        return sql;
    }

    /// <summary>An attempt at timed turns as lists know it, flown and uploaded so many days ago.</summary>
    private async Task<Guid> FlownAsync(Guid student, int daysAgo, string status = "scored", Guid? assignmentId = null)
    {
        await using var sql = await JobAsync();
        var id = Guid.CreateVersion7();
        var scored = status == "scored";
        await sql.ExecuteAsync(
            $"""
            insert into attempts (id, school_id, student_id, drill_version_id, assignment_id, uploaded_by_id, uploaded_at_utc, file_name,
              file_bytes, sha256, meta, status, revision, flown_at_utc, within_share, verdict, ribbon)
            select '{id}', d.school_id, '{student}', d.id, {(assignmentId is { } given ? $"'{given}'" : "null")}, '{student}',
              now() - interval '{daysAgo} days', 'flown.csv', 1, '{id:N}', '{"{}"}', '{status}', 0,
              {(scored ? $"now() - interval '{daysAgo} days'" : "null")}, {(scored ? "0.7" : "null")},
              {(scored ? "'not-met'" : "null")}, '[]'
            from drill_versions d where d.school_id = '{app.TussockId}' and d.slug = 'timed-turns'
            """
        );
        return id;
    }
}
