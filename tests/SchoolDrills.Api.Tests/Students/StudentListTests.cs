using System.Net;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Students;

/// <summary>Each test calls its students by a word of its own, and asks for that word.</summary>
public sealed class StudentListTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static readonly DateOnly LongAgo = new(2020, 1, 1),
        FarAhead = new(2040, 1, 1);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Who_needs_an_instructor_comes_first()
    {
        var none = await StudentAsync("kind-a-none");
        var ready = await StudentAsync("kind-b-ready");
        var stuck = await StudentAsync("kind-c-stuck");
        var ungraded = await StudentAsync("kind-d-ungraded");
        var overdue = await StudentAsync("kind-e-overdue");
        await FlownAsync(none, graded: true, (0.6, "not-met"), (0.6, "not-met"), (0.6, "not-met"), (0.6, "not-met"));
        await FlownAsync(ready, graded: true, (0.95, "met"), (0.95, "met"), (0.96, "met"));
        await FlownAsync(stuck, graded: true, (0.6, "not-met"), (0.5, "not-met"), (0.6, "not-met"), (0.5, "not-met"), (0.55, "not-met"));
        await FlownAsync(ungraded, graded: false, (0.7, "not-met"));
        await AssignAsync(overdue, "racetrack", LongAgo);
        var page = await (await app.AsAsync(SchoolsFixture.Instructor)).StudentsAsync(search: "kind-", ct: Cancel);
        Assert.Equal([overdue, ungraded, stuck, ready, none], page.Items.Select(s => s.StudentId));
        Assert.Equal(Enum.GetValues<StudentNeed>(), page.Items.Select(s => s.Need));
        Assert.Equal(Enum.GetValues<StudentNeed>(), page.Needs.Select(n => n.Need));
        Assert.All(page.Needs, n => Assert.Equal(1, n.Students));
        Assert.Equal((1, 1, LongAgo), (page.Items[0].Open, page.Items[0].Overdue, page.Items[0].DueOn!.Value));
        Assert.Contains("5 attempts without a clear gain", page.Items[2].Going!, StringComparison.Ordinal);
        Assert.Null(page.Items[4].Going);
    }

    [Fact]
    public async Task Students_are_ordered_by_name_by_due_day_and_by_last_flight()
    {
        var client = await app.AsAsync(SchoolsFixture.Instructor);
        Guid b = await StudentAsync("order-b"),
            a = await StudentAsync("order-a"),
            c = await StudentAsync("order-c");
        await AssignAsync(c, "racetrack", FarAhead.AddDays(-1));
        await AssignAsync(b, "racetrack", FarAhead);
        await FlownAsync(a, graded: true, (0.9, "close"));
        Assert.Equal([a, b, c], await IdsAsync(StudentSort.Name));
        Assert.Equal([c, b, a], await IdsAsync(StudentSort.Due));
        Assert.Equal([a, b, c], await IdsAsync(StudentSort.LastFlown));

        async Task<IEnumerable<Guid>> IdsAsync(StudentSort sort) =>
            (await client.StudentsAsync(sort, "ORDER-", ct: Cancel)).Items.Select(s => s.StudentId);
    }

    [Fact]
    public async Task A_column_orders_both_ways_and_who_has_nothing_there_is_last_either_way()
    {
        var client = await app.AsAsync(SchoolsFixture.Instructor);
        Guid a = await StudentAsync("column-a"),
            b = await StudentAsync("column-b"),
            c = await StudentAsync("column-c");
        await AssignAsync(a, "racetrack", LongAgo);
        await AssignAsync(a, "timed-turns", LongAgo.AddDays(1));
        await AssignAsync(b, "racetrack", LongAgo.AddDays(2));
        await FlownAsync(c, graded: false, (0.9, "close"), (0.9, "close"));
        await FlownAsync(b, graded: false, (0.9, "close"));
        Assert.Equal([c, b, a], await IdsAsync(StudentSort.Name, true));
        Assert.Equal([a, b, c], await IdsAsync(StudentSort.Due, false));
        Assert.Equal([b, a, c], await IdsAsync(StudentSort.Due, true));
        Assert.Equal([b, c, a], await IdsAsync(StudentSort.LastFlown, false));
        Assert.Equal([c, b, a], await IdsAsync(StudentSort.LastFlown, true));
        Assert.Equal([c, b, a], await IdsAsync(StudentSort.Overdue, false));
        Assert.Equal([a, b, c], await IdsAsync(StudentSort.Overdue, true));
        Assert.Equal([c, b, a], await IdsAsync(StudentSort.ToGrade, true));
        Assert.Equal([a, b, c], await IdsAsync(StudentSort.Need, false));
        Assert.Equal([c, b, a], await IdsAsync(StudentSort.Need, true));

        async Task<IEnumerable<Guid>> IdsAsync(StudentSort sort, bool descending) =>
            (await client.StudentsAsync(sort, "column-", descending: descending, ct: Cancel)).Items.Select(s => s.StudentId);
    }

    [Fact]
    public async Task Twenty_one_students_are_two_pages_and_a_sign_of_the_search_means_itself()
    {
        var client = await app.AsAsync(SchoolsFixture.Chief);
        foreach (var number in Enumerable.Range(1, 21))
        {
            var email = $"paged-{number}@tussockplains.example";
            await client.InviteAsync(new InvitePerson($"Paged {number:00}", email, [Roles.Student]), Cancel);
        }

        var first = await client.StudentsAsync(StudentSort.Name, "paged", ct: Cancel);
        var second = await client.StudentsAsync(StudentSort.Name, "paged", page: 2, ct: Cancel);
        Assert.Equal((20, 21, 1), (first.Items.Count, first.Total, second.Items.Count));
        Assert.Equal("Paged 21", second.Items[0].StudentName);
        Assert.Empty((await client.StudentsAsync(search: "paged", page: 3, ct: Cancel)).Items);
        Assert.Equal(0, (await client.StudentsAsync(search: "p_ged%", ct: Cancel)).Total);
        await Refusals.RefusedAsync(HttpStatusCode.BadRequest, () => client.StudentsAsync(page: 0, ct: Cancel));
    }

    [Fact]
    public async Task Mine_are_those_to_whom_I_gave_a_drill_that_stands()
    {
        var student = await StudentAsync("owned-one");
        var second = await app.AsAsync(SchoolsFixture.SecondInstructor);
        Assert.Equal(0, (await second.StudentsAsync(search: "owned-", mine: true, ct: Cancel)).Total);
        var made = await second.AssignAsync(new CreateAssignment([student], "racetrack", FarAhead), Cancel);
        Assert.Equal(student, Assert.Single((await second.StudentsAsync(search: "owned-", mine: true, ct: Cancel)).Items).StudentId);
        await second.CancelAssignmentAsync(made[0].Id, Cancel);
        Assert.Equal(0, (await second.StudentsAsync(search: "owned-", mine: true, ct: Cancel)).Total);
    }

    [Fact]
    public async Task Students_see_no_list_and_another_school_sees_its_own()
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => student.StudentsAsync(ct: Cancel));
        var far = await (await app.AsAsync(SchoolsFixture.FarChief)).StudentsAsync(ct: Cancel);
        Assert.Equal(app.IdOf(SchoolsFixture.FarStudent), Assert.Single(far.Items).StudentId);
    }

    [Fact]
    public async Task A_drill_given_unless_it_is_given_is_given_once_however_many_ask()
    {
        var student = await StudentAsync("once-only");
        var asked = new CreateAssignment([student], "timed-turns", FarAhead, UnlessOpen: true);
        string[] instructors = [SchoolsFixture.Instructor, SchoolsFixture.SecondInstructor, SchoolsFixture.Chief];
        var clients = await Task.WhenAll(instructors.Select(app.AsAsync));
        var answers = await Task.WhenAll(clients.Select(c => c.AssignAsync(asked, Cancel)));
        var all = answers.Select(a => Assert.Single(a)).ToList();
        Assert.Single(all.Select(a => a.Id).Distinct());
        Assert.Single(all, a => !a.WasOpen);
        await clients[0].CancelAssignmentAsync(all[0].Id, Cancel);
        Assert.False(Assert.Single(await clients[0].AssignAsync(asked, Cancel)).WasOpen);
        // Without the word a drill can be given twice, as before.
        Assert.False(Assert.Single(await clients[0].AssignAsync(asked with { UnlessOpen = false }, Cancel)).WasOpen);
    }

    private async Task<Guid> StudentAsync(string name)
    {
        await app.NewcomerAsync(name, Roles.Student);
        return app.IdOf(name);
    }

    private async Task AssignAsync(Guid student, string drill, DateOnly dueOn) =>
        await (await app.AsAsync(SchoolsFixture.Instructor)).AssignAsync(new CreateAssignment([student], drill, dueOn), Cancel);

    /// <summary>Scored attempts at timed turns, a day apart, as lists know them.</summary>
    private async Task FlownAsync(Guid student, bool graded, params (double WithinShare, string Verdict)[] attempts)
    {
        await using var sql = await RawSql.OpenAsync(app.Database.OwnerConnectionString);
        await sql.EnterAsync(app.TussockId, null, "jobs");
        foreach (var (day, (share, verdict)) in attempts.Index())
        {
            var id = Guid.CreateVersion7();
            await sql.ExecuteAsync(
                FormattableString.Invariant(
                    $"""
                    insert into attempts (id, school_id, student_id, drill_version_id, uploaded_by_id, uploaded_at_utc, file_name,
                      file_bytes, sha256, meta, status, revision, flown_at_utc, within_share, verdict, ribbon)
                    select '{id}', d.school_id, '{student}', d.id, '{student}', '2026-02-{day + 1:00}', 'flown.csv', 1, '{id:N}', '{"{}"}',
                      'scored', 0, '2026-02-{day + 1:00}', {share}, '{verdict}', '[]'
                    from drill_versions d where d.school_id = '{app.TussockId}' and d.slug = 'timed-turns'
                    """
                )
            );
            if (!graded)
                continue;
            var instructor = app.IdOf(SchoolsFixture.Instructor);
            await sql.ExecuteAsync(
                $"""
                insert into grades (id, school_id, attempt_id, number, instructor_id, overall, segments, saved_at_utc, signed_at_utc)
                values ('{Guid.CreateVersion7()}', '{app.TussockId}', '{id}', 0, '{instructor}', 'to-standard', '[]', now(), now())
                """
            );
        }
    }
}
