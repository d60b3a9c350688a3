using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Api.Tests.Drills;

/// <summary>Who is to answer load tasks in flight finds neither question nor answer anywhere beforehand.</summary>
public sealed class QuestionTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>Names, scripts and answers of the drill's load tasks, as they stand in the catalogue.</summary>
    private static List<string> Words(string slug) =>
        [
            .. Catalogue
                .Templates.Single(t => t.Slug == slug)
                .LoadTasks.SelectMany(t => new[] { t.Name, t.Script, t.ExpectedAnswer })
                .OfType<string>(),
        ];

    [Theory]
    [InlineData("box-circles")]
    [InlineData("vertical-s-turning")]
    public async Task A_student_gets_the_time_of_a_load_task_and_nothing_else_by_any_address(string slug)
    {
        var assignment = await app.AssignAsync(slug);
        using var student = await app.HttpAsync(SchoolsFixture.Student);
        var id = app.IdOf(SchoolsFixture.Student);
        foreach (
            var address in (string[])
                [
                    "drills",
                    $"drills/{slug}",
                    $"drills/{slug}?version=1",
                    $"drills/{slug}/timeline",
                    $"drills/{slug}/timeline?version=1&mirrored=true&halfRate=true",
                    $"drills/{slug}/picture",
                    "assignments",
                    $"assignments/{assignment.Id}",
                    "me/notices",
                    $"students/{id}/next-drill",
                    $"students/{id}/progress",
                    $"students/{id}/record",
                ]
        )
        {
            var text = await student.GetStringAsync("/api/v1/" + address, Cancel);
            Assert.All(
                Words(slug),
                w => Assert.False(text.Contains($"\"{w}\"", StringComparison.Ordinal), $"{address} tells the student '{w}'.")
            );
        }

        var api = new SchoolDrillsClient(student);
        var tasks = Catalogue.Templates.Single(t => t.Slug == slug).LoadTasks;
        Assert.Equal(
            tasks.Select(t => new LoadTask("Load task", "", t.AtS)).OrderBy(t => t.AtS),
            (await api.DrillAsync(slug, ct: Cancel)).LoadTasks.OrderBy(t => t.AtS)
        );
        Assert.Equal(tasks.Select(t => t.AtS).Order(), (await api.TimelineAsync(slug, ct: Cancel)).LoadTasks.Select(t => t.AtS));
    }

    [Fact]
    public async Task A_flight_that_was_scored_tells_no_question_either()
    {
        var attemptId = await app.ScoredAsync("box-circles", "f01.gpx");
        using var student = await app.HttpAsync(SchoolsFixture.Student);
        var reportId = (await new SchoolDrillsClient(student).AttemptAsync(attemptId, Cancel)).Score;
        Assert.NotNull(reportId);
        foreach (var address in (string[])[$"attempts/{attemptId}", $"attempts/{attemptId}/boundaries", $"attempts/{attemptId}/comparison"])
        {
            var text = await student.GetStringAsync("/api/v1/" + address, Cancel);
            Assert.All(
                Words("box-circles").Where(w => w.Length > 12),
                w => Assert.False(text.Contains(w, StringComparison.Ordinal), $"{address} tells the student '{w}'.")
            );
        }
    }

    [Theory]
    [InlineData(SchoolsFixture.Instructor)]
    [InlineData(SchoolsFixture.Chief)]
    public async Task Who_asks_them_reads_them(string person)
    {
        var api = await app.AsAsync(person);

        Assert.Contains((await api.DrillAsync("box-circles", ct: Cancel)).LoadTasks, t => t.ExpectedAnswer == "060");
        Assert.Contains((await api.TimelineAsync("box-circles", ct: Cancel)).LoadTasks, t => t.Script.Length > 0);
    }
}
