using System.Net;
using System.Net.Http.Json;
using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests;

/// <summary>Lists in pages, each with the address of the next.</summary>
public sealed class ListPageTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Assignments_come_in_pages_each_once_in_their_order_and_the_last_names_no_next()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        await app.NewcomerAsync("much-assigned", Roles.Student);
        var id = app.IdOf("much-assigned");
        string[] drills = ["racetrack", "timed-turns", "box-circles", "vertical-s-turning", "box-step-1-square"];
        await instructor.AssignAsync(new CreateAssignment([id], null, new DateOnly(2031, 5, 1), DrillSlugs: drills), Cancel);
        var whole = (await instructor.AssignmentsAsync(id, ct: Cancel)).Select(a => a.Id).ToList();
        Assert.Equal(5, whole.Count);

        using var http = await app.HttpAsync(SchoolsFixture.Instructor);
        var (pages, next) = (new List<List<Guid>>(), $"/api/v1/assignments?studentId={id}&state=open&pageSize=2");
        while (next is not null)
        {
            using var answer = await http.GetAsync(next, Cancel);
            answer.EnsureSuccessStatusCode();
            var page = await answer.Content.ReadFromJsonAsync(WireJson.Default.IReadOnlyListAssignmentSummary, Cancel);
            pages.Add([.. page!.Select(a => a.Id)]);
            next = NextOf(answer);
        }

        Assert.Equal([2, 2, 1], pages.Select(p => p.Count));
        Assert.Equal(whole, pages.SelectMany(p => p));
    }

    [Fact]
    public async Task A_list_longer_than_a_page_is_read_whole_by_the_client_and_capped_for_whoever_asks_for_no_page()
    {
        await app.NewcomerAsync("long-assigned", Roles.Student);
        var id = app.IdOf("long-assigned");
        var instructorId = app.IdOf(SchoolsFixture.Instructor);
        await app.QueryAsync(async db =>
        {
            var drill = await db.DrillVersions.FirstAsync(Cancel);
            db.Assignments.AddRange(
                Enumerable
                    .Range(0, ListPage.UsualSize + 1)
                    .Select(_ => new Assignment
                    {
                        SchoolId = app.TussockId,
                        StudentId = id,
                        DrillVersionId = drill.Id,
                        AssignedById = instructorId,
                        // All alike but for their numbers, which alone tell them apart.
                        AssignedAtUtc = DateTimeOffset.UnixEpoch,
                    })
            );
            return await db.SaveChangesAsync(Cancel);
        });

        var all = await (await app.AsAsync(SchoolsFixture.Instructor)).AssignmentsAsync(id, ct: Cancel);
        Assert.Equal(ListPage.UsualSize + 1, all.Select(a => a.Id).Distinct().Count());
        using var http = await app.HttpAsync(SchoolsFixture.Instructor);
        using var answer = await http.GetAsync($"/api/v1/assignments?studentId={id}", Cancel);
        var first = await answer.Content.ReadFromJsonAsync(WireJson.Default.IReadOnlyListAssignmentSummary, Cancel);
        Assert.Equal(ListPage.UsualSize, first!.Count);
        Assert.Equal($"</api/v1/assignments?studentId={id}&page=2>; rel=\"next\"", Assert.Single(answer.Headers.GetValues("Link")));
    }

    [Fact]
    public async Task The_state_that_is_asked_for_is_the_state_that_is_told()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        await app.ScoredAsync("timed-turns", "f13.csv");
        var drafted = await app.ScoredAsync("timed-turns", "f13.csv");
        await instructor.SaveGradeAsync(drafted, new SaveGrade("not-yet", [], null, Sign: false), Cancel);
        var signed = await app.ScoredAsync("timed-turns", "f13.csv");
        await instructor.SaveGradeAsync(signed, new SaveGrade("to-standard", [], null, Sign: true), Cancel);
        var unscorable = await app.ScoredAsync("timed-turns", "f13.csv");
        await app.QueryAsJobAsync(db =>
            db.Set<Attempt>()
                .Where(a => a.Id == unscorable)
                .ExecuteUpdateAsync(a => a.SetProperty(x => x.Status, AttemptStatus.Unscorable), Cancel)
        );
        // Flown once so that it could be scored, and once more so that it could not.
        var twice = await app.AssignAsync("timed-turns");
        await app.ScoreAsync(await app.UploadAsync(twice.Id, "f13.csv"));
        var later = await app.UploadAsync(twice.Id, "f12.csv");
        await app.QueryAsJobAsync(db =>
            db.Set<Attempt>()
                .Where(a => a.Id == later)
                .ExecuteUpdateAsync(a => a.SetProperty(x => x.Status, AttemptStatus.Unscorable), Cancel)
        );
        Assert.Equal("flown", (await instructor.AssignmentAsync(twice.Id, Cancel)).State);
        await app.AssignAsync("racetrack");
        await instructor.AssignAsync(
            new CreateAssignment([app.IdOf(SchoolsFixture.Student)], "box-circles", new DateOnly(2020, 1, 1)),
            Cancel
        );
        await instructor.AssignAsync(new CreateAssignment([app.IdOf(SchoolsFixture.Student)], "box-circles", null), Cancel);

        foreach (var reader in new[] { instructor, await app.AsAsync(SchoolsFixture.Student) })
        {
            var whole = await reader.AssignmentsAsync(ct: Cancel);
            foreach (var state in new[] { "open", "overdue", "flown", "graded" })
            {
                var told = whole.Where(a => a.State == state).Select(a => a.Id).ToList();
                Assert.NotEmpty(told);
                Assert.Equal(told, (await reader.AssignmentsAsync(state: state, ct: Cancel)).Select(a => a.Id));
            }
        }
    }

    [Fact]
    public async Task People_come_in_pages_with_when_they_were_last_here()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var whole = await chief.PeopleAsync(ct: Cancel);
        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        using var answer = await http.GetAsync("/api/v1/people?pageSize=3&page=1", Cancel);
        var first = await answer.Content.ReadFromJsonAsync(WireJson.Default.IReadOnlyListPersonSummary, Cancel);
        Assert.Equal(whole.Take(3).Select(p => (p.Id, p.SignedInAtUtc)), first!.Select(p => (p.Id, p.SignedInAtUtc)));
        Assert.Equal("</api/v1/people?pageSize=3&page=2>; rel=\"next\"", Assert.Single(answer.Headers.GetValues("Link")));
    }

    [Fact]
    public async Task Attempts_follow_one_another_by_the_last_one_shown_each_once_and_whatever_comes_in_meanwhile()
    {
        const int Attempts = 60;
        await app.NewcomerAsync("much-flown", Roles.Student);
        var id = app.IdOf("much-flown");
        // Every third at the same moment: their numbers alone tell them apart.
        await AddAttemptsAsync(id, Enumerable.Range(0, Attempts).Select(n => DateTimeOffset.UnixEpoch.AddDays(n / 3)));
        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        var (seen, next) = (new List<Guid>(), $"/api/v1/attempts?studentId={id}");
        while (next is not null)
        {
            var (page, link) = await AttemptsAsync(http, next);
            Assert.Equal((Attempts, false), (Math.Min(page.Total, Attempts), page.More));
            seen.AddRange(page.Items.Select(a => a.AttemptId));
            // Newer than all: a page by number would show one of its rows twice.
            await AddAttemptsAsync(id, [DateTimeOffset.UnixEpoch.AddYears(1)]);
            next = link;
        }

        var whole = await app.QueryAsync(db =>
            db.Attempts.Where(a => a.StudentId == id && a.UploadedAtUtc < DateTimeOffset.UnixEpoch.AddYears(1))
                .OrderByDescending(a => a.UploadedAtUtc)
                .ThenByDescending(a => a.Id)
                .Select(a => a.Id)
                .ToListAsync(Cancel)
        );
        Assert.Equal(whole, seen);
    }

    [Fact]
    public async Task Of_thousands_no_more_are_counted_than_a_page_has_use_for()
    {
        await app.NewcomerAsync("flown-for-years", Roles.Student);
        var id = app.IdOf("flown-for-years");
        await AddAttemptsAsync(id, Enumerable.Range(0, ListPage.MostCounted + 30).Select(n => DateTimeOffset.UnixEpoch.AddHours(n)));
        using var http = await app.HttpAsync(SchoolsFixture.Chief);

        var (first, _) = await AttemptsAsync(http, $"/api/v1/attempts?studentId={id}");
        Assert.Equal((ListPage.MostCounted + first.PageSize, true), (first.Total, first.More));
        var (second, _) = await AttemptsAsync(http, $"/api/v1/attempts?studentId={id}&page=2");
        Assert.Equal((ListPage.MostCounted + 30, false), (second.Total, second.More));
        var last = (ListPage.MostCounted + 30 + first.PageSize - 1) / first.PageSize;
        var (end, none) = await AttemptsAsync(http, $"/api/v1/attempts?studentId={id}&page={last}");
        Assert.Equal((ListPage.MostCounted + 30) % first.PageSize, end.Items.Count);
        Assert.Null(none);
    }

    [Fact]
    public async Task The_audit_trail_follows_by_the_last_entry_shown_and_knows_each_action_once()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        for (var n = 0; n < 60; n++)
            await app.AssignAsync("racetrack");
        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        var (seen, next) = (new List<long>(), "/api/v1/school/audit?what=drill-assigned");
        AuditPage? page = null;
        while (next is not null)
        {
            using var answer = await http.GetAsync(next, Cancel);
            answer.EnsureSuccessStatusCode();
            page = await answer.Content.ReadFromJsonAsync(WireJson.Default.AuditPage, Cancel);
            Assert.All(page!.Items, line => Assert.Equal("drill-assigned", line.What));
            seen.AddRange(page.Items.Select(l => l.Id));
            next = NextOf(answer);
        }

        Assert.True(seen.Count >= 60);
        Assert.Equal(seen.OrderDescending().Distinct(), seen);
        var actions = await app.QueryAsync(db => db.AuditEntries.Select(e => e.Action).Distinct().ToListAsync(Cancel));
        Assert.Equal(actions.Order(StringComparer.Ordinal), page!.Actions);
    }

    [Theory]
    [InlineData("attempts?after=7")]
    [InlineData("attempts?after=638000000000000000_7")]
    [InlineData("attempts?after=99999999999999999999_00000000000000000000000000000000")]
    [InlineData("attempts?after=9223372036854775807_00000000000000000000000000000000")]
    [InlineData("school/audit?after=x")]
    public async Task A_place_to_go_on_from_that_no_list_named_is_refused(string path)
    {
        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        using var answer = await http.GetAsync($"/api/v1/{path}", Cancel);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    private static async Task<(AttemptPage Page, string? Next)> AttemptsAsync(HttpClient http, string address)
    {
        using var answer = await http.GetAsync(address, Cancel);
        answer.EnsureSuccessStatusCode();
        return ((await answer.Content.ReadFromJsonAsync(WireJson.Default.AttemptPage, Cancel))!, NextOf(answer));
    }

    private static string? NextOf(HttpResponseMessage answer) =>
        answer.Headers.TryGetValues("Link", out var links) ? Assert.Single(links).Split('<', '>')[1] : null;

    private Task<int> AddAttemptsAsync(Guid studentId, IEnumerable<DateTimeOffset> uploadedAtUtc) =>
        app.QueryAsync(async db =>
        {
            var drillId = await db.DrillVersions.Where(d => d.Slug == "racetrack").Select(d => d.Id).FirstAsync(Cancel);
            db.Attempts.AddRange(
                uploadedAtUtc.Select(at => new Attempt
                {
                    SchoolId = app.TussockId,
                    StudentId = studentId,
                    DrillVersionId = drillId,
                    UploadedById = studentId,
                    UploadedAtUtc = at,
                    FileName = "earlier.csv",
                    FileBytes = 1,
                    Sha256 = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(32)),
                    Meta = new AttemptMeta(),
                })
            );
            return await db.SaveChangesAsync(Cancel);
        });
}
