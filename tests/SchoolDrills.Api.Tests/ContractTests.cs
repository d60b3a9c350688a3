using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using Xunit;

namespace SchoolDrills.Api.Tests;

/// <summary>The names that clients outside this project are written against, word for word as the contract has them.</summary>
public sealed class ContractTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_reference_is_made_once_and_sent_only_to_whoever_does_not_have_it()
    {
        using var http = app.CreateClient();
        using var first = await http.GetAsync("/api/v1/openapi.json", Cancel);
        Assert.Equal("application/json", first.Content.Headers.ContentType?.MediaType);
        using var again = new HttpRequestMessage(HttpMethod.Get, "/api/v1/openapi.json");
        again.Headers.IfNoneMatch.Add(first.Headers.ETag!);
        using var second = await http.SendAsync(again, Cancel);
        Assert.Equal((HttpStatusCode.NotModified, 0), (second.StatusCode, (await second.Content.ReadAsByteArrayAsync(Cancel)).Length));
    }

    [Fact]
    public async Task A_session_and_the_person()
    {
        using var http = app.CreateClient();
        using var body = new StringContent(
            $$"""{"email": "{{SchoolsFixture.EmailOf(SchoolsFixture.Instructor)}}", "password": "{{SchoolsFixture.Password}}"}""",
            new MediaTypeHeaderValue("application/json")
        );
        var answer = await http.PostAsync("/api/v1/session", body, Cancel);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        var session = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(Cancel)).RootElement;
        Has(session, "accessToken", "expiresAtUtc", "refreshToken");
        IsUtc(session, "expiresAtUtc");
        var me = await GetAsync(SchoolsFixture.Instructor, "me");
        Has(me, "id", "displayName", "email", "roles", "school");
        Has(me.GetProperty("school"), "id", "name", "timeZone");
        Assert.Equal("""["instructor"]""", me.GetProperty("roles").GetRawText());
    }

    [Fact]
    public async Task The_catalogue_and_a_timeline()
    {
        string[] members = ["slug", "version", "title", "purpose", "durationS", "segmentCount", "level", "state", "standardSlug"];
        Has((await GetAsync(SchoolsFixture.Student, "drills"))[0], members);
        var timeline = await GetAsync(
            SchoolsFixture.Student,
            "drills/box-circles/timeline?headingMagDeg=90&altitudeFt=4000&airspeedKt=100&mirrored=true"
        );
        Has(timeline, "durationS", "segments", "gates", "cues", "checks", "loadTasks");
        Has(
            timeline.GetProperty("segments")[0],
            "index",
            "name",
            "kind",
            "startS",
            "endS",
            "startHeadingMagDeg",
            "endHeadingMagDeg",
            "startAltitudeFt",
            "endAltitudeFt",
            "turnRateDegPerS",
            "verticalSpeedFpm",
            "airspeedKt"
        );
        Has(timeline.GetProperty("gates")[0], "atS", "headingMagDeg", "altitudeFt", "label");
        Has(timeline.GetProperty("cues")[0], "atS", "text");
        Assert.Equal("level-straight", timeline.GetProperty("segments")[0].GetProperty("kind").GetString());
        Assert.Equal("climb-turn", timeline.GetProperty("segments")[1].GetProperty("kind").GetString());
        // Mirrored: the first circle, to the right in the template, goes left.
        Assert.Equal(-3, timeline.GetProperty("segments")[1].GetProperty("turnRateDegPerS").GetDouble());
        Assert.Equal((90, 4000, 100), (Number("startHeadingMagDeg"), Number("startAltitudeFt"), Number("airspeedKt")));

        double Number(string name) => timeline.GetProperty("segments")[0].GetProperty(name).GetDouble();
    }

    [Fact]
    public async Task An_attempt_with_its_report_and_its_track()
    {
        var attemptId = await app.ScoredAsync("box-circles", "f01.gpx");
        var attempt = await GetAsync(SchoolsFixture.Student, $"attempts/{attemptId}");
        Has(attempt, "attemptId", "assignmentId", "studentId", "drill", "status", "score", "events", "loadRatings");
        Has(attempt.GetProperty("drill"), "slug", "version");
        Assert.Equal("scored", attempt.GetProperty("status").GetString());
        IsUtc(attempt, "uploadedAtUtc");

        var score = attempt.GetProperty("score");
        Has(
            score,
            "engineVersion",
            "drill",
            "recording",
            "found",
            "confidence",
            "startUtc",
            "endUtc",
            "wind",
            "declinationDeg",
            "sources",
            "segments",
            "findings",
            "saturation",
            "overall",
            "notMeasured"
        );
        IsUtc(score, "startUtc");
        Has(score.GetProperty("recording"), "format", "samples", "dropped", "gaps", "startUtc", "endUtc", "medianIntervalS", "columns");
        Has(score.GetProperty("wind"), "source");
        Has(score.GetProperty("sources"), "heading", "altitude", "airspeed");
        Has(score.GetProperty("overall"), "withinShare", "verdict");
        var segment = score.GetProperty("segments")[1];
        Has(
            segment,
            "index",
            "name",
            "kind",
            "nominalStartS",
            "nominalEndS",
            "status",
            "startUtc",
            "endUtc",
            "startErrorS",
            "endErrorS",
            "deviations",
            "verdict"
        );
        Assert.Equal(("climb-turn", "flown"), (segment.GetProperty("kind").GetString(), segment.GetProperty("status").GetString()));
        var altitude = segment.GetProperty("deviations").EnumerateArray().Single(d => d.GetProperty("parameter").GetString() == "altitude");
        Has(
            altitude,
            "parameter",
            "unit",
            "tolerance",
            "meanAbs",
            "rms",
            "maxAbs",
            "sigma",
            "withinShare",
            "outsideS",
            "longestOutsideS",
            "verdict"
        );
        Assert.Equal("ft", altitude.GetProperty("unit").GetString());

        Has(
            await GetAsync(SchoolsFixture.Student, $"attempts/{attemptId}/track"),
            "timeS",
            "latDeg",
            "lonDeg",
            "altitudeFt",
            "headingMagDeg",
            "verticalSpeedFpm",
            "turnRateDegPerS",
            "airspeedKt"
        );

        var progress = await GetAsync(SchoolsFixture.Student, $"students/{app.IdOf(SchoolsFixture.Student)}/progress");
        var parameter = progress.GetProperty("parameters")[0];
        Has(parameter, "parameter", "unit", "points", "standardShare", "reason");
        Has(parameter.GetProperty("points")[0], "attemptId", "flownOn", "withinShare", "lo", "hi");
    }

    [Theory]
    [InlineData("/api/v1/no-such-thing", HttpStatusCode.NotFound)]
    [InlineData("/api/v1/attempts?page=zero", HttpStatusCode.BadRequest)]
    [InlineData("/api/v1/attempts?status=lost", HttpStatusCode.BadRequest)]
    [InlineData("/api/v1/attempts?page=0", HttpStatusCode.BadRequest)]
    [InlineData("/api/v1/assignments?state=lost", HttpStatusCode.BadRequest)]
    [InlineData("/api/v1/people?role=pilot", HttpStatusCode.BadRequest)]
    [InlineData("/api/v1/people?pageSize=501", HttpStatusCode.BadRequest)]
    [InlineData("/api/v1/drills/box-circles/timeline?altitudeFt=high", HttpStatusCode.BadRequest)]
    public async Task Every_refusal_is_problem_details_with_a_sentence(string path, HttpStatusCode status)
    {
        using var http = await app.HttpAsync(SchoolsFixture.Instructor);
        var answer = await http.GetAsync(path, Cancel);
        var body = await answer.Content.ReadAsStringAsync(Cancel);
        Assert.True(status == answer.StatusCode, $"{(int)answer.StatusCode}: {body}");
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
    }

    [Fact]
    public async Task The_reference_covers_every_path_of_the_contract_that_is_served()
    {
        using var http = app.CreateClient();
        var paths = JsonDocument.Parse(await http.GetStringAsync("/api/v1/openapi.json", Cancel)).RootElement.GetProperty("paths");
        string[] documented =
        [
            "session",
            "session/refresh",
            "me",
            "me/account",
            "me/notices",
            "me/notices/count",
            "me/notices/read",
            .. "people people/invitations school/start school/sample-recording".Split(' '),
            "drills",
            "drills/{slug}",
            "drills/{slug}/example",
            "drills/{slug}/draft",
            "drills/{slug}/draft/trial",
            "drills/{slug}/draft/revisions",
            "drills/{slug}/draft/revisions/{number}",
            "drills/{slug}/publish",
            "drills/{slug}/retire",
            "drills/{slug}/timeline",
            "aircraft/versions",
            "aircraft/{slug}/retire",
            "standards",
            "standards/editions",
            "standards/{slug}/use",
            "standards/{slug}/retire",
            "standards/{slug}/reinstate",
            "assignments",
            "assignments/before",
            "assignments/cancel",
            "assignments/{id}/cancel",
            "assignments/{id}/attempts",
            "attempts",
            "attempts/{id}",
            "attempts/{id}/events/{eventId}",
            "attempts/{id}/flight-logs",
            "assignments/{id}/flight-logs",
            "assignments/{id}/flight-logs/{logId}",
            "flight-logs/{id}/shift",
            "attempts/{id}/track",
            "attempts/{id}/track/original",
            "attempts/{id}/grade",
            "attempts/{id}/grade/amend",
            "attempts/{id}/grade/acknowledge",
            "attempts/{id}/boundaries",
            "attempts/{id}/reading",
            "attempts/{id}/self-assessment",
            "attempts/{id}/reports/{reportId}",
            "school/settings",
            "uploads",
            "uploads/{id}/check",
            "uploads/{id}/attempt",
            "score-preview",
            .. "progress load weak-segments next-drill notes".Split(' ').Select(part => $"students/{{id}}/{part}"),
            "notes/{id}",
            "desk",
            "search",
            "school/overview",
            "school/grading-agreement",
            "attempts/{id}/comparison",
            "attempts/{id}/comparison/track",
            "attempts/{id}/example",
            "assignments/{id}/plan",
            "school/areas",
            "school/areas/{id}",
            "school/stages",
            "school/readiness",
            .. (string[])["school/rescoring", "school/rescoring/stop", "school/rescoring/changes", "school/status"],
            "school/overview.csv",
            "school/attempts.csv",
            "school/attempts.json",
        ];
        foreach (var path in documented)
        {
            Assert.True(paths.TryGetProperty("/api/v1/" + path, out var operations), $"{path} is not in the reference.");
            Assert.All(
                operations.EnumerateObject(),
                o => Assert.True(o.Value.TryGetProperty("summary", out _), $"{o.Name} {path} has no summary.")
            );
        }
    }

    [Fact]
    public async Task The_readable_reference_asks_nothing_of_other_hosts()
    {
        using var http = app.CreateClient();
        var page = await http.GetStringAsync("/api/docs", Cancel);
        Assert.DoesNotContain("src=\"http", page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("cdn.", page, StringComparison.OrdinalIgnoreCase);
    }

    private async Task<JsonElement> GetAsync(string person, string path)
    {
        using var http = await app.HttpAsync(person);
        return JsonDocument.Parse(await http.GetStringAsync("/api/v1/" + path, Cancel)).RootElement;
    }

    private static void Has(JsonElement element, params string[] names) =>
        Assert.Empty(names.Except(element.EnumerateObject().Select(p => p.Name)));

    private static void IsUtc(JsonElement element, string name) =>
        Assert.EndsWith("Z", element.GetProperty(name).GetString(), StringComparison.Ordinal);
}
