using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests;

/// <summary>Characters in what people send that the database cannot keep, or that would deceive who reads them.</summary>
public sealed class RequestTextTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private const string AnyId = "00000000-0000-7000-8000-000000000001";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("POST", "assignments", """{"studentIds": [], "drillSlug": "racetrack", "notes": "a \u0000 in it"}""")]
    [InlineData("POST", "people", """{"displayName": "x", "email": "x\u0000@tussockplains.example", "roles": ["student"]}""")]
    [InlineData("POST", "people", """{"displayName": "\\\u0000", "email": "x@tussockplains.example", "roles": ["student"]}""")]
    [InlineData("PUT", $"attempts/{AnyId}/events/{AnyId}", """{"kind": "mark\u0000", "atUtc": "2026-02-01T00:00:00Z"}""")]
    [InlineData("POST", $"attempts/{AnyId}/grade", """{"segments": [], "comment": "\u0000", "sign": false}""")]
    [InlineData("POST", "session", """{"email": "\u0000", "password": "x"}""")]
    [InlineData("POST", "people", "{\"\\u0000\": 1}")]
    [InlineData("POST", "people", "{\"displayName\": \"\0\"}")]
    [InlineData("GET", "attempts?drillSlug=%00", null)]
    [InlineData("GET", "school/audit?what=a%00b", null)]
    [InlineData("GET", "assignments?%00=1", null)]
    public async Task A_NUL_is_refused_in_one_sentence_wherever_it_stands(string method, string path, string? body)
    {
        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        using var request = new HttpRequestMessage(new HttpMethod(method), "/api/v1/" + path);
        if (body is not null)
            request.Content = new StringContent(body, new MediaTypeHeaderValue("application/json"));
        IsNul(await (await http.SendAsync(request, Cancel)).ProblemAsync(HttpStatusCode.BadRequest));
    }

    [Theory]
    [InlineData("""{"displayName": "C:\\u0000", "email": "backslash@tussockplains.example", "roles": ["student"]}""")]
    [InlineData("""{"displayName": "u0000 \u0030\u0030", "email": "noughts@tussockplains.example", "roles": ["student"]}""")]
    public async Task What_only_looks_like_one_is_not(string body)
    {
        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        using var content = new StringContent(body, new MediaTypeHeaderValue("application/json"));
        Assert.Equal(HttpStatusCode.Created, (await http.PostAsync("/api/v1/people", content, Cancel)).StatusCode);
    }

    [Fact]
    public async Task A_NUL_in_a_form_signs_nobody_in()
    {
        using var http = app.CreateClient(new() { HandleCookies = false });
        var (cookies, token) = await FormSignIn.FormAsync(http);
        using var request = new HttpRequestMessage(HttpMethod.Post, "/sign-in");
        request.Headers.Add("Cookie", cookies);
        request.Content = new FormUrlEncodedContent([
            new("__RequestVerificationToken", token),
            new("email", "\0@tussockplains.example"),
            new("password", SchoolsFixture.Password),
        ]);
        // The framework takes no form with one.
        Assert.Equal(HttpStatusCode.BadRequest, (await http.SendAsync(request, Cancel)).StatusCode);
    }

    [Fact]
    public async Task A_NUL_beside_a_recording_is_refused_as_well()
    {
        using var chief = await app.HttpAsync(SchoolsFixture.Chief);
        await using var track = SchoolsFixture.Recording("f13.csv");
        using var upload = new MultipartFormDataContent
        {
            { new StreamContent(track), "track", "f13.csv" },
            { new StringContent("""{"drill": "timed-turns\u0000"}"""), "meta" },
        };
        IsNul(await (await chief.PostAsync("/api/v1/attempts", upload, Cancel)).ProblemAsync(HttpStatusCode.BadRequest));
    }

    [Fact]
    public async Task Marks_that_turn_the_direction_of_writing_are_no_part_of_a_name()
    {
        const string turned = "gpx.\u202Eexe\u2066 \u200FAnn\u061C";
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var made = await chief.InviteAsync(new InvitePerson(turned, "turned@tussockplains.example", [Roles.Student]), Cancel);
        Assert.Equal("gpx.exe Ann", made.Person.DisplayName);
        var edited = await chief.EditPersonAsync(made.Person.Id, new EditPerson($"B{turned}", [Roles.Student]), Cancel);
        Assert.Equal("Bgpx.exe Ann", edited.DisplayName);
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.EditPersonAsync(made.Person.Id, new EditPerson("\u202E\u2066", [Roles.Student]), Cancel)
        );
        Assert.Equal("gpx.exe Ann", (await chief.CreateApiTokenAsync(new CreateApiToken(turned, "read", 1), Cancel)).Summary.Name);

        await using var track = SchoolsFixture.Recording("f13.csv");
        var student = await app.AsAsync(SchoolsFixture.Student);
        Assert.Equal("flight.csvgpx", (await student.SendRecordingAsync(track, "flight\u202E.csv\u2069gpx", Cancel)).FileName);
    }

    [Theory]
    [InlineData("/progress?of=me", "/progress?of=me")]
    [InlineData("/\r\nSet-Cookie: a=b", "/")]
    [InlineData("/\t/elsewhere.example", "/")]
    [InlineData("/\u00E9", "/")]
    [InlineData("/a\u007F", "/")]
    [InlineData("//elsewhere.example", "/")]
    [InlineData("/\\elsewhere.example", "/")]
    [InlineData("https://elsewhere.example/", "/")]
    public async Task Whoever_signed_in_is_led_to_a_page_of_ours_or_home(string returnUrl, string wanted)
    {
        using var http = app.CreateClient(new() { AllowAutoRedirect = false, HandleCookies = false });
        var (cookies, token) = await FormSignIn.FormAsync(http);
        using var request = new HttpRequestMessage(HttpMethod.Post, "/sign-in");
        request.Headers.Add("Cookie", cookies);
        request.Content = new FormUrlEncodedContent([
            new("__RequestVerificationToken", token),
            new("email", SchoolsFixture.EmailOf(SchoolsFixture.SecondInstructor)),
            new("password", SchoolsFixture.Password),
            new("returnUrl", returnUrl),
        ]);
        var answer = await http.SendAsync(request, Cancel);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.Equal(wanted, answer.Headers.Location!.ToString());
    }

    private static void IsNul(JsonElement problem) =>
        Assert.Equal(
            "There is a character NUL (U+0000) in a text of this request: send it without.",
            problem.GetProperty("detail").GetString()
        );
}
