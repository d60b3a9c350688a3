using System.Net;
using System.Net.Http.Headers;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

/// <summary>Who may call what, and whose things are seen.</summary>
public sealed class AccessTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private const string AnyId = "00000000-0000-7000-8000-000000000001";

    public static TheoryData<string, string> SignedInOnly =>
        new()
        {
            { "GET", "me" },
            { "DELETE", "session" },
            { "GET", "people" },
            { "GET", "drills" },
            { "GET", "drills/box-circles" },
            { "GET", "drills/box-circles/timeline" },
            { "GET", "drills/box-circles/picture" },
            { "GET", "standards" },
            { "GET", "assignments" },
            { "POST", "assignments" },
            { "POST", $"assignments/{AnyId}/cancel" },
            { "POST", $"assignments/{AnyId}/attempts" },
            { "POST", "attempts" },
            { "GET", "attempts" },
            { "GET", $"attempts/{AnyId}" },
            { "GET", $"attempts/{AnyId}/track" },
            { "GET", $"attempts/{AnyId}/track/original" },
            { "PUT", $"attempts/{AnyId}/events/{AnyId}" },
            { "PUT", $"attempts/{AnyId}/load-ratings/1" },
            { "POST", $"attempts/{AnyId}/grade" },
            { "POST", $"attempts/{AnyId}/grade/amend" },
            { "POST", $"attempts/{AnyId}/grade/acknowledge" },
            { "POST", "score-preview" },
            { "GET", $"students/{AnyId}/progress" },
            { "POST", "drills" },
            { "PUT", "drills/box-circles/draft" },
            { "POST", "drills/box-circles/publish" },
            { "POST", "drills/box-circles/retire" },
        };

    [Theory]
    [MemberData(nameof(SignedInOnly))]
    public async Task Nothing_is_open_to_strangers(string method, string path)
    {
        using var http = app.Stranger();
        await (await SendAsync(http, method, path)).ProblemAsync(HttpStatusCode.Unauthorized);
    }

    [Theory]
    [InlineData(SchoolsFixture.Student, "GET", "people")]
    [InlineData(SchoolsFixture.Student, "POST", "assignments")]
    [InlineData(SchoolsFixture.Student, "POST", $"assignments/{AnyId}/cancel")]
    [InlineData(SchoolsFixture.Student, "POST", $"attempts/{AnyId}/grade")]
    [InlineData(SchoolsFixture.Student, "POST", $"attempts/{AnyId}/grade/amend")]
    [InlineData(SchoolsFixture.Student, "POST", "drills")]
    [InlineData(SchoolsFixture.Instructor, "POST", "drills")]
    [InlineData(SchoolsFixture.Instructor, "PUT", "drills/box-circles/draft")]
    [InlineData(SchoolsFixture.Instructor, "POST", "drills/box-circles/publish")]
    [InlineData(SchoolsFixture.Instructor, "POST", "drills/box-circles/retire")]
    public async Task A_role_that_may_not_is_told_so(string person, string method, string path)
    {
        using var http = await app.HttpAsync(person);
        await (await SendAsync(http, method, path)).ProblemAsync(HttpStatusCode.Forbidden);
    }

    [Fact]
    public async Task Another_school_finds_nothing_of_ours()
    {
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        var attempt = await (await app.AsAsync(SchoolsFixture.Student)).AttemptAsync(attemptId, Cancel);
        using var far = await app.HttpAsync(SchoolsFixture.FarChief);
        foreach (
            var path in (string[])
                [
                    $"attempts/{attemptId}",
                    $"attempts/{attemptId}/track",
                    $"attempts/{attemptId}/track/original",
                    $"students/{app.IdOf(SchoolsFixture.Student)}/progress",
                    $"assignments/{attempt.AssignmentId}",
                ]
        )
        {
            await (await far.GetAsync("/api/v1/" + path, Cancel)).ProblemAsync(HttpStatusCode.NotFound);
        }

        var client = await app.AsAsync(SchoolsFixture.FarChief);
        Assert.Empty(await client.AssignmentsAsync(ct: Cancel));
        Assert.Empty((await client.AttemptsAsync(ct: Cancel)).Items);
        Assert.Equal(["The far-chief", "The far-student"], (await client.PeopleAsync(ct: Cancel)).Select(p => p.DisplayName));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => client.CancelAssignmentAsync(attempt.AssignmentId!.Value, Cancel));
        await Refusals.RefusedAsync(
            HttpStatusCode.NotFound,
            () => client.SaveGradeAsync(attemptId, new SaveGrade("to-standard", [], null, true), Cancel)
        );
        await using var track = SchoolsFixture.Recording("f13.csv");
        await Refusals.RefusedAsync(
            HttpStatusCode.NotFound,
            () => client.UploadAsync(attempt.AssignmentId, track, "f13.csv", new AttemptMeta(), Cancel)
        );
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => client.AssignAsync(new CreateAssignment([app.IdOf(SchoolsFixture.Student)], "box-circles", null), Cancel)
        );
    }

    [Fact]
    public async Task Another_student_finds_nothing_of_mine()
    {
        var attemptId = await app.ScoredAsync("timed-turns", "f13.nmea");
        var mine = app.IdOf(SchoolsFixture.Student);
        var other = await app.AsAsync(SchoolsFixture.OtherStudent);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => other.AttemptAsync(attemptId, Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => other.TrackAsync(attemptId, Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => other.ProgressAsync(mine, Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => other.AttemptsAsync(mine, ct: Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => other.AcknowledgeGradeAsync(attemptId, new AcknowledgeGrade(), Cancel));
        Assert.Empty((await other.AttemptsAsync(ct: Cancel)).Items);
        Assert.Empty(await other.AssignmentsAsync(ct: Cancel));
    }

    [Fact]
    public async Task A_cookie_alone_changes_nothing_through_the_API()
    {
        // A page of another site can make a browser send the cookie with a form; it cannot make it send the token.
        using var http = app.CreateClient(new() { HandleCookies = false });
        using var request = new HttpRequestMessage(HttpMethod.Post, $"/api/v1/attempts/{AnyId}/grade/acknowledge")
        {
            Content = new StringContent("{}", new MediaTypeHeaderValue("application/json")),
        };
        request.Headers.Add("Cookie", "schooldrills=forged");
        await (await http.SendAsync(request, Cancel)).ProblemAsync(HttpStatusCode.Unauthorized);
    }

    private static async Task<HttpResponseMessage> SendAsync(HttpClient http, string method, string path)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), "/api/v1/" + path);
        if (method is "POST" or "PUT")
            request.Content = new StringContent("{}", new MediaTypeHeaderValue("application/json"));
        return await http.SendAsync(request, Cancel);
    }
}
