using System.Net;
using System.Net.Http.Headers;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

/// <summary>What the pages' cookie may change, and from where.</summary>
public sealed class SameOriginTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private const string Here = "http://localhost";

    /// <summary>Somebody signed in may ask this; there is only no such attempt.</summary>
    private const string Change = "/api/v1/attempts/00000000-0000-7000-8000-000000000001/grade/acknowledge";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("same-origin", Here, HttpStatusCode.NotFound)]
    [InlineData("same-origin", "null", HttpStatusCode.NotFound)]
    [InlineData(null, Here, HttpStatusCode.NotFound)]
    [InlineData(null, "https://localhost", HttpStatusCode.NotFound)]
    [InlineData("cross-site", "https://elsewhere.example", HttpStatusCode.Forbidden)]
    [InlineData("same-site", "http://localhost:8080", HttpStatusCode.Forbidden)]
    [InlineData("same-site", Here, HttpStatusCode.Forbidden)]
    [InlineData(null, "http://localhost:8080", HttpStatusCode.Forbidden)]
    [InlineData(null, "http://sub.localhost", HttpStatusCode.Forbidden)]
    [InlineData(null, "null", HttpStatusCode.Forbidden)]
    [InlineData(null, null, HttpStatusCode.Forbidden)]
    public async Task A_cookie_changes_something_only_from_our_own_pages(string? site, string? origin, HttpStatusCode wanted)
    {
        var cookie = await app.CookieAsync(SchoolsFixture.Student);
        using var http = app.CreateClient(new() { HandleCookies = false });
        using var request = From(site, origin, HttpMethod.Post, Change, cookie);
        request.Content = new StringContent("{}", new MediaTypeHeaderValue("application/json"));
        await (await http.SendAsync(request, Cancel)).ProblemAsync(wanted);
    }

    [Fact]
    public async Task A_cookie_reads_from_anywhere_as_the_browser_lets_nobody_see_it()
    {
        var cookie = await app.CookieAsync(SchoolsFixture.Student);
        using var http = app.CreateClient(new() { HandleCookies = false });
        using var request = From("cross-site", null, HttpMethod.Get, "/api/v1/me", cookie);
        var answer = await http.SendAsync(request, Cancel);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.DoesNotContain(answer.Headers, h => h.Key.StartsWith("Access-Control", StringComparison.OrdinalIgnoreCase));
    }

    [Fact]
    public async Task A_token_may_come_from_anywhere()
    {
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        using var request = From("cross-site", "https://elsewhere.example", HttpMethod.Post, Change, null);
        request.Content = new StringContent("{}", new MediaTypeHeaderValue("application/json"));
        await (await http.SendAsync(request, Cancel)).ProblemAsync(HttpStatusCode.NotFound);
    }

    [Theory]
    [InlineData("/sign-in")]
    [InlineData("/sign-in/step")]
    [InlineData("/sign-in/switch")]
    [InlineData("/sign-out")]
    public async Task A_form_needs_its_token_and_is_not_taken_from_elsewhere_even_with_one(string form)
    {
        var cookie = await app.CookieAsync(SchoolsFixture.Student);
        using var http = app.CreateClient(new() { AllowAutoRedirect = false, HandleCookies = false });
        var (cookies, token) = await FormSignIn.FormAsync(http, cookie);
        Assert.NotEmpty(token);
        Assert.Equal(HttpStatusCode.BadRequest, await PostAsync(null, null, cookies, ""));
        Assert.Equal(HttpStatusCode.Forbidden, await PostAsync("same-site", "http://localhost:8080", cookies, token));
        Assert.Equal(HttpStatusCode.Forbidden, await PostAsync(null, "http://localhost:8080", cookies, token));
        // Over plain HTTP and without a referrer this is all that a browser says of its own form.
        Assert.Equal(HttpStatusCode.Redirect, await PostAsync(null, "null", cookies, token));

        async Task<HttpStatusCode> PostAsync(string? site, string? origin, string cookies, string token)
        {
            using var request = From(site, origin, HttpMethod.Post, form, cookies);
            request.Content = new FormUrlEncodedContent([
                new("__RequestVerificationToken", token),
                new("school", Guid.NewGuid().ToString()),
            ]);
            return (await http.SendAsync(request, Cancel)).StatusCode;
        }
    }

    [Theory]
    [InlineData("GET", "/_blazor?id=any", null)]
    [InlineData("POST", "/_blazor/negotiate?negotiateVersion=1", null)]
    [InlineData("POST", "/_blazor/negotiate?negotiateVersion=1", "same-site")]
    public async Task The_pages_own_connection_is_not_opened_from_elsewhere(string method, string path, string? site)
    {
        var cookie = await app.CookieAsync(SchoolsFixture.Student);
        using var http = app.CreateClient(new() { HandleCookies = false });
        using var foreign = From(site, "http://localhost:8080", new HttpMethod(method), path, cookie);
        await (await http.SendAsync(foreign, Cancel)).ProblemAsync(HttpStatusCode.Forbidden);
        using var own = From(site is null ? null : "same-origin", Here, new HttpMethod(method), path, cookie);
        Assert.NotEqual(HttpStatusCode.Forbidden, (await http.SendAsync(own, Cancel)).StatusCode);
    }

    [Fact]
    public async Task What_is_shared_from_elsewhere_is_set_aside_and_becomes_nothing_by_itself()
    {
        var cookie = await app.CookieAsync(SchoolsFixture.OtherStudent);
        using var http = app.CreateClient(new() { AllowAutoRedirect = false, HandleCookies = false });
        await using var track = SchoolsFixture.Recording("f13.csv");
        using var request = From("cross-site", "null", HttpMethod.Post, "/share", cookie);
        request.Content = new MultipartFormDataContent { { new StreamContent(track), "track", "from-elsewhere.csv" } };
        Assert.Equal("/upload", (await http.SendAsync(request, Cancel)).Headers.Location!.ToString());
        var student = await app.AsAsync(SchoolsFixture.OtherStudent);
        Assert.Contains(await student.PendingAsync(Cancel), p => p.FileName == "from-elsewhere.csv");
        Assert.Empty((await student.AttemptsAsync(ct: Cancel)).Items);
    }

    [Theory]
    [InlineData("text/plain")]
    [InlineData("application/x-www-form-urlencoded")]
    [InlineData(null)]
    public async Task A_body_that_is_not_said_to_be_JSON_is_not_taken_for_it(string? type)
    {
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        // One whose body would be read, and one that has none.
        foreach (var path in (string[])[Change, "/api/v1/me/second-factor"])
        {
            using var content = new ByteArrayContent("{}"u8.ToArray());
            content.Headers.ContentType = type is null ? null : new MediaTypeHeaderValue(type);
            await (await http.PostAsync(path, content, Cancel)).ProblemAsync(HttpStatusCode.UnsupportedMediaType);
        }
    }

    private static HttpRequestMessage From(string? site, string? origin, HttpMethod method, string path, string? cookie)
    {
        var request = new HttpRequestMessage(method, path);
        if (site is not null)
            request.Headers.Add("Sec-Fetch-Site", site);
        if (origin is not null)
            request.Headers.Add("Origin", origin);
        if (cookie is not null)
            request.Headers.Add("Cookie", cookie);
        return request;
    }
}
