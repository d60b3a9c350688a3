using System.Net.Http.Json;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests;

/// <summary>Lists that are bare arrays: in pages, each with the address of the next.</summary>
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
            next = answer.Headers.TryGetValues("Link", out var links) ? Assert.Single(links).Split('<', '>')[1] : null;
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
}
