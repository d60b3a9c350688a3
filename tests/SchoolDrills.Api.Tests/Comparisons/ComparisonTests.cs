using System.Net;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Comparisons;

/// <summary>One attempt over another, and who may see what of an example.</summary>
public sealed class ComparisonTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private const string Drill = "box-circles",
        Recording = "f01.gpx";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_last_is_the_one_flown_before_and_the_best_has_the_highest_share()
    {
        var student = await app.NewcomerAsync("comparer", Roles.Student);
        var (oldest, before, now, later) = (
            await FlownAsync("comparer", 21, 0.9),
            await FlownAsync("comparer", 14, 0.5),
            await FlownAsync("comparer", 7, 0.7),
            await FlownAsync("comparer", 1, 0.6)
        );
        var last = await student.ComparisonAsync(now, ComparedWith.Last, Cancel);
        Assert.Equal([ComparedWith.Last, ComparedWith.Best], last.Offered.Where(o => o != ComparedWith.Example));
        Assert.Equal((before, 0.5), (last.OtherId, last.OtherWithinShare));
        Assert.Equal(oldest, (await student.ComparisonAsync(now, ComparedWith.Best, Cancel)).OtherId);
        Assert.Equal(now, (await student.ComparisonAsync(later, ComparedWith.Last, Cancel)).OtherId);
        Assert.All(last.Segments, s => Assert.Equal(s.StartErrorS, s.OtherStartErrorS));

        // The same recording twice: both lines are the same line.
        var overlay = await student.OverlayAsync(now, ComparedWith.Last, Cancel);
        Assert.NotEmpty(overlay.Segments);
        Assert.All(overlay.Segments, s => Assert.Equal(s.This!.AltitudeFt, s.Other!.AltitudeFt));
        Assert.Contains(ComparedWith.Last, (await student.AttemptAsync(now, Cancel)).ComparableWith);
    }

    [Fact]
    public async Task The_first_attempt_says_that_it_is_the_first()
    {
        var student = await app.NewcomerAsync("beginner", Roles.Student);
        var only = await FlownAsync("beginner", 1, 0.5);
        var comparison = await student.ComparisonAsync(only, ComparedWith.Last, Cancel);
        Assert.Null(comparison.With);
        Assert.StartsWith("This is the first attempt at this drill", comparison.Reason, StringComparison.Ordinal);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => student.OverlayAsync(only, ComparedWith.Last, Cancel));
    }

    [Fact]
    public async Task An_example_is_marked_by_those_who_teach_where_the_student_agreed_and_shows_nobody()
    {
        await app.NewcomerAsync("shown", Roles.Student);
        var student = await app.NewcomerAsync("looker", Roles.Student);
        var (example, mine) = (await FlownAsync("shown", 30, 0.95), await FlownAsync("looker", 3, 0.4));
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => instructor.MarkExampleAsync(example, new MarkExample(false), Cancel)
        );
        await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => student.MarkExampleAsync(mine, new MarkExample(true), Cancel));
        Assert.DoesNotContain(ComparedWith.Example, (await student.ComparisonAsync(mine, null, Cancel)).Offered);

        Assert.True((await instructor.MarkExampleAsync(example, new MarkExample(true), Cancel)).IsExample);
        var comparison = await student.ComparisonAsync(mine, ComparedWith.Example, Cancel);
        Assert.Equal((ComparedWith.Example, true), (comparison.With, comparison.Segments.All(s => s.Other is not null)));
        var http = await app.HttpAsync("looker");
        foreach (var path in (string[])["comparison", "comparison/track"])
        {
            var said = await http.GetStringAsync($"/api/v1/attempts/{mine}/{path}?with=example", Cancel);
            Assert.DoesNotContain(example.ToString(), said, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("shown", said, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("latDeg", said, StringComparison.Ordinal);
            Assert.DoesNotContain("Utc\":\"", said, StringComparison.Ordinal);
        }

        Assert.All(comparison.Segments, s => Assert.Null(s.OtherStartErrorS));
        // Otherwise another's attempt stays another's.
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => student.AttemptAsync(example, Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => student.ComparisonAsync(example, ComparedWith.Last, Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => student.OverlayAsync(example, ComparedWith.Example, Cancel));

        // There is one example a drill, and it can be withdrawn.
        var second = await FlownAsync("shown", 29, 0.9);
        await instructor.MarkExampleAsync(second, new MarkExample(true), Cancel);
        Assert.False((await instructor.ExampleAsync(example, Cancel)).IsExample);
        await instructor.UnmarkExampleAsync(second, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => student.OverlayAsync(mine, ComparedWith.Example, Cancel));
        var trail = await app.QueryAsync(db =>
            db.AuditEntries.Where(e => e.SubjectId == second).OrderBy(e => e.Id).Select(e => e.Action).ToListAsync(Cancel)
        );
        Assert.Equal(["example-marked", "example-withdrawn"], trail.Where(a => a.StartsWith("example", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task Erasing_the_student_withdraws_his_example()
    {
        await app.NewcomerAsync("leaver", Roles.Student);
        var example = await FlownAsync("leaver", 30, 0.95, "f01.kml");
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        await chief.MarkExampleAsync(example, new MarkExample(true), Cancel);
        var id = app.IdOf("leaver");
        await app.QueryAccountsAsync(db =>
            db.People.Where(p => p.Id == id).ExecuteUpdateAsync(s => s.SetProperty(p => p.Active, false), Cancel)
        );
        await app.QueryAsync(db => db.Database.ExecuteSqlAsync($"select erasure.erase_person({id}, 'Student 1')", Cancel));
        Assert.False(await app.QueryAsync(db => db.DrillExamples.AnyAsync(e => e.AttemptId == example, Cancel)));
    }

    /// <summary>Flown so many days ago, with a share in tolerance set by hand.</summary>
    private async Task<Guid> FlownAsync(string student, int daysAgo, double share, string recording = Recording)
    {
        var assignment = await app.AssignAsync(Drill, student);
        var id = await app.UploadAsync(assignment.Id, recording, student: student);
        await app.ScoreAsync(id);
        await app.QueryAsJobAsync(db =>
            db.Attempts.Where(a => a.Id == id)
                .ExecuteUpdateAsync(
                    s => s.SetProperty(a => a.FlownAtUtc, DateTimeOffset.UtcNow.AddDays(-daysAgo)).SetProperty(a => a.WithinShare, share),
                    Cancel
                )
        );
        return id;
    }
}
