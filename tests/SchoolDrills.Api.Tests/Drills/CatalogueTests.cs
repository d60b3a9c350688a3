using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using System.Text.Json.Nodes;
using SchoolDrills.Contracts;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Api.Tests.Drills;

public sealed class CatalogueTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_box_of_circles_takes_fourteen_minutes_and_comes_home_at_its_altitude()
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        var summary = Assert.Single(await student.DrillsAsync(Cancel), d => d.Slug == "box-circles");
        Assert.Equal((840.0, 1, "published"), (summary.DurationS, summary.Version, summary.State));

        // By arithmetic: four sides of 3:30, each with 1000 ft up or down and a 90 to the next heading.
        var timeline = await student.TimelineAsync(
            "box-circles",
            entry: new AssignmentOverrides(HeadingMagDeg: 20, AltitudeFt: 4500),
            ct: Cancel
        );
        Assert.Equal(840, timeline.DurationS);
        Assert.Equal((20.0, 4500.0), (timeline.Segments[0].StartHeadingMagDeg, timeline.Segments[0].StartAltitudeFt));
        Assert.Equal((20.0, 4500.0), (timeline.Segments[^1].EndHeadingMagDeg, timeline.Segments[^1].EndAltitudeFt));
        Assert.Equal(5500, timeline.Segments.Max(s => s.EndAltitudeFt));
    }

    [Fact]
    public async Task A_picture_has_columns_of_one_length()
    {
        var picture = await (await app.AsAsync(SchoolsFixture.Student)).PictureAsync("racetrack", ct: Cancel);
        Assert.True(picture.TimeS.Length > 100);
        Assert.All(
            (int[])[picture.EastM.Length, picture.NorthM.Length, picture.AltitudeFt.Length, picture.SegmentIndex.Length],
            n => Assert.Equal(picture.TimeS.Length, n)
        );
    }

    [Fact]
    public async Task An_unknown_drill_or_version_is_not_found()
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => student.DrillAsync("no-such-drill", ct: Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => student.DrillAsync("box-circles", 7, Cancel));
    }

    [Fact]
    public async Task A_drill_is_drafted_published_flown_in_its_version_and_retired()
    {
        using var chief = await app.HttpAsync(SchoolsFixture.Chief);
        var student = await app.AsAsync(SchoolsFixture.Student);
        await AcceptedAsync(await chief.PostAsync("/api/v1/drills", Body(Draft("short-box", 30)), Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => student.DrillAsync("short-box", ct: Cancel));
        await (await chief.PostAsync("/api/v1/drills", Body(Draft("short-box", 30)), Cancel)).ProblemAsync(HttpStatusCode.Conflict);

        await AcceptedAsync(await chief.PostAsync("/api/v1/drills/short-box/publish", null, Cancel));
        Assert.Equal(1, (await student.DrillAsync("short-box", ct: Cancel)).Version);
        await (await chief.PostAsync("/api/v1/drills/short-box/publish", null, Cancel)).ProblemAsync(HttpStatusCode.Conflict);
        var assigned = await app.AssignAsync("short-box");

        await AcceptedAsync(await chief.PutAsync("/api/v1/drills/short-box/draft", Body(Draft("short-box", 45)), Cancel));
        await AcceptedAsync(await chief.PostAsync("/api/v1/drills/short-box/publish", null, Cancel));
        Assert.Equal(45, (await student.DrillAsync("short-box", ct: Cancel)).Segments[0].DurationS);
        Assert.Equal(30, (await student.DrillAsync("short-box", 1, Cancel)).Segments[0].DurationS);
        Assert.Equal(1, Assert.Single(await student.AssignmentsAsync(ct: Cancel), a => a.Id == assigned.Id).DrillVersion);

        await AcceptedAsync(await chief.PostAsync("/api/v1/drills/short-box/retire", null, Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => app.AssignAsync("short-box"));
        Assert.Equal(30, (await student.DrillAsync("short-box", 1, Cancel)).Segments[0].DurationS);
    }

    [Fact]
    public async Task A_full_circle_at_standard_rate_in_90_seconds_is_refused_with_the_sum()
    {
        using var chief = await app.HttpAsync(SchoolsFixture.Chief);
        var impossible = Draft("too-fast", 30) with
        {
            Segments =
            [
                new Segment
                {
                    Name = "Circle",
                    DurationS = 90,
                    TurnDeg = 360,
                    TurnRateDegPerS = 3,
                },
            ],
        };
        var problem = await (await chief.PostAsync("/api/v1/drills", Body(impossible), Cancel)).ProblemAsync(
            HttpStatusCode.UnprocessableEntity
        );
        // 360° at 3°/s takes 120 s.
        Assert.Contains("120", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
        await (await chief.GetAsync("/api/v1/drills/too-fast", Cancel)).ProblemAsync(HttpStatusCode.NotFound);
    }

    [Theory]
    [InlineData("""{"slug": "x"}""")]
    [InlineData("""[1, 2""")]
    [InlineData("")]
    public async Task A_template_that_is_none_is_refused(string body)
    {
        using var chief = await app.HttpAsync(SchoolsFixture.Chief);
        using var content = new StringContent(body, new MediaTypeHeaderValue("application/json"));
        await (await chief.PostAsync("/api/v1/drills", content, Cancel)).ProblemAsync(HttpStatusCode.UnprocessableEntity);
    }

    [Fact]
    public async Task A_misspelt_field_is_told_and_not_passed_over()
    {
        using var chief = await app.HttpAsync(SchoolsFixture.Chief);
        var misspelt = JsonSerializer.SerializeToNode(Draft("misspelt", 30), EngineJson.Default.DrillTemplate)!;
        misspelt["segments"]![0]!.AsObject().Add("durationSeconds", JsonValue.Create(30));
        using var content = new StringContent(misspelt.ToJsonString(), new MediaTypeHeaderValue("application/json"));
        var problem = await (await chief.PostAsync("/api/v1/drills", content, Cancel)).ProblemAsync(HttpStatusCode.UnprocessableEntity);
        Assert.Contains("durationSeconds", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Standards_name_their_source()
    {
        var standards = await (await app.AsAsync(SchoolsFixture.Student)).StandardsAsync(Cancel);
        Assert.NotEmpty(standards);
        Assert.All(standards, s => Assert.NotEmpty(s.Source));
    }

    private static DrillTemplate Draft(string slug, double firstS) =>
        new()
        {
            Slug = slug,
            Title = "Short box",
            Purpose = "One side of the box, for a beginner.",
            StandardSlug = "instrument-rating",
            Entry = new DrillEntry(360, 3000, 90),
            Segments = [new Segment { Name = "Straight", DurationS = firstS }, new Segment { Name = "Turn", TurnDeg = 90 }],
        };

    private static StringContent Body(DrillTemplate template) =>
        new(JsonSerializer.Serialize(template, EngineJson.Default.DrillTemplate), new MediaTypeHeaderValue("application/json"));

    private static async Task AcceptedAsync(HttpResponseMessage response) =>
        Assert.True(response.IsSuccessStatusCode, $"{(int)response.StatusCode}: {await response.Content.ReadAsStringAsync(Cancel)}");
}
