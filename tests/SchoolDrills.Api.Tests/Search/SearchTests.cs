using System.Net;
using Xunit;

namespace SchoolDrills.Api.Tests.Search;

public sealed class SearchTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task An_instructor_finds_students_drills_and_attempts_by_every_word()
    {
        var attempt = await app.ScoredAsync("timed-turns", "f13.csv");
        var client = await app.AsAsync(SchoolsFixture.Instructor);
        var name = (await client.AttemptsAsync(ct: Cancel)).Items.Single(a => a.AttemptId == attempt).StudentName;
        var byName = await client.SearchAsync(name.ToUpperInvariant(), Cancel);
        Assert.Contains(byName.Students, s => s.Id == app.IdOf(SchoolsFixture.Student));
        Assert.Contains(byName.Attempts, a => a.AttemptId == attempt);

        var byTitle = await client.SearchAsync("timed", Cancel);
        Assert.Contains(byTitle.Drills, d => d.Slug == "timed-turns");
        Assert.Contains(byTitle.Attempts, a => a.AttemptId == attempt);
        Assert.Empty(byTitle.Students);

        // Words of the name and of the title together mean that student's flights of that drill.
        var both = await client.SearchAsync($"{name} timed", Cancel);
        Assert.Equal((0, 0), (both.Students.Count, both.Drills.Count));
        Assert.Contains(both.Attempts, a => a.AttemptId == attempt);
        Assert.Equal(0, (await client.SearchAsync("timed nowhere", Cancel)).Count);
    }

    [Fact]
    public async Task A_student_finds_drills_and_own_attempts_and_nobody_elses_name_or_work()
    {
        var attempt = await app.ScoredAsync("timed-turns", "f13.csv");
        var own = await (await app.AsAsync(SchoolsFixture.Student)).SearchAsync("timed", Cancel);
        Assert.Contains(own.Attempts, a => a.AttemptId == attempt);
        Assert.Contains(own.Drills, d => d.Slug == "timed-turns");
        var other = await app.AsAsync(SchoolsFixture.OtherStudent);
        Assert.DoesNotContain((await other.SearchAsync("timed", Cancel)).Attempts, a => a.AttemptId == attempt);
        Assert.Empty((await other.SearchAsync("student", Cancel)).Students);
        Assert.Empty((await (await app.AsAsync(SchoolsFixture.FarChief)).SearchAsync("timed", Cancel)).Attempts);
    }

    [Fact]
    public async Task Nothing_asked_finds_nothing_and_signs_of_patterns_mean_themselves()
    {
        var client = await app.AsAsync(SchoolsFixture.Chief);
        Assert.Equal(0, (await client.SearchAsync("   ", Cancel)).Count);
        Assert.Equal(0, (await client.SearchAsync("%", Cancel)).Count);
        Assert.Equal(0, (await client.SearchAsync("t_med", Cancel)).Count);
        Assert.InRange((await client.SearchAsync("t", Cancel)).Drills.Count, 1, 6);
        await Refusals.RefusedAsync(HttpStatusCode.BadRequest, () => client.SearchAsync(new string('a', 101), Cancel));
    }
}
