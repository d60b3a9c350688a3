using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

public sealed class SessionTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_signed_in_person_is_told_who_and_where_he_is()
    {
        var me = await (await app.AsAsync(SchoolsFixture.Instructor)).MeAsync(Cancel);
        Assert.Equal(
            (app.IdOf(SchoolsFixture.Instructor), "The instructor", "instructor@tussockplains.example"),
            (me.Id, me.DisplayName, me.Email)
        );
        Assert.Equal(["instructor"], me.Roles);
        Assert.Equal(
            (app.TussockId, "Tussock Plains Flying School", "Pacific/Auckland"),
            (me.School.Id, me.School.Name, me.School.TimeZone)
        );
    }

    [Fact]
    public async Task A_wrong_password_and_an_unknown_address_get_the_same_answer()
    {
        using var http = app.Stranger();
        var wrong = await (await SignInAsync(http, SchoolsFixture.EmailOf(SchoolsFixture.Chief), "not-the-password")).ProblemAsync(
            HttpStatusCode.Unauthorized
        );
        var unknown = await (await SignInAsync(http, "nobody@tussockplains.example", "not-the-password")).ProblemAsync(
            HttpStatusCode.Unauthorized
        );
        Assert.Equal(wrong.GetProperty("detail").GetString(), unknown.GetProperty("detail").GetString());
        Assert.Equal(wrong.GetProperty("type").GetString(), unknown.GetProperty("type").GetString());
    }

    [Theory]
    [InlineData("""{}""")]
    [InlineData("""{"email": null, "password": null}""")]
    [InlineData("""{"email": "student@tussockplains.example"}""")]
    [InlineData("""{"email": """)]
    public async Task An_incomplete_or_broken_sign_in_is_a_bad_request_with_a_sentence(string body)
    {
        using var http = app.Stranger();
        using var content = new StringContent(body, new MediaTypeHeaderValue("application/json"));
        await (await http.PostAsync("/api/v1/session", content, Cancel)).ProblemAsync(HttpStatusCode.BadRequest);
    }

    [Fact]
    public async Task Ending_a_session_ends_its_access_token_and_its_refresh_token()
    {
        var tokens = await app.SignInAsync(SchoolsFixture.Student);
        using var http = With(tokens.AccessToken);
        var client = new SchoolDrillsClient(http);
        await client.MeAsync(Cancel);
        await client.SignOutAsync(Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => client.MeAsync(Cancel));
        await Refusals.RefusedAsync(
            HttpStatusCode.Unauthorized,
            () => new SchoolDrillsClient(app.Stranger()).RefreshAsync(new RefreshSession(tokens.RefreshToken), Cancel)
        );
    }

    [Fact]
    public async Task A_refresh_token_works_once_and_its_replay_ends_the_session()
    {
        var stranger = new SchoolDrillsClient(app.Stranger());
        var first = await app.SignInAsync(SchoolsFixture.Student);
        var second = await stranger.RefreshAsync(new RefreshSession(first.RefreshToken), Cancel);
        using var renewed = With(second.AccessToken);
        await new SchoolDrillsClient(renewed).MeAsync(Cancel);

        await Refusals.RefusedAsync(
            HttpStatusCode.Unauthorized,
            () => stranger.RefreshAsync(new RefreshSession(first.RefreshToken), Cancel)
        );
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => new SchoolDrillsClient(renewed).MeAsync(Cancel));
        await Refusals.RefusedAsync(
            HttpStatusCode.Unauthorized,
            () => stranger.RefreshAsync(new RefreshSession(second.RefreshToken), Cancel)
        );
    }

    [Theory]
    [InlineData("")]
    [InlineData("no token at all")]
    public async Task A_refresh_token_that_is_none_is_refused(string token) =>
        await Refusals.RefusedAsync(
            HttpStatusCode.Unauthorized,
            () => new SchoolDrillsClient(app.Stranger()).RefreshAsync(new RefreshSession(token), Cancel)
        );

    [Fact]
    public async Task An_access_token_does_not_renew_and_a_refresh_token_does_not_open()
    {
        var tokens = await app.SignInAsync(SchoolsFixture.Student);
        await Refusals.RefusedAsync(
            HttpStatusCode.Unauthorized,
            () => new SchoolDrillsClient(app.Stranger()).RefreshAsync(new RefreshSession(tokens.AccessToken), Cancel)
        );
        using var http = With(tokens.RefreshToken);
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => new SchoolDrillsClient(http).MeAsync(Cancel));
    }

    [Fact]
    public async Task A_person_who_was_deactivated_is_out_at_once()
    {
        var tokens = await app.SignInAsync(SchoolsFixture.SecondInstructor);
        using var http = With(tokens.AccessToken);
        var client = new SchoolDrillsClient(http);
        await client.MeAsync(Cancel);
        await SetActiveAsync(false);
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => client.MeAsync(Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => app.SignInAsync(SchoolsFixture.SecondInstructor));
        await SetActiveAsync(true);
        await client.MeAsync(Cancel);

        Task SetActiveAsync(bool active) =>
            app.QueryAccountsAsync(async db =>
            {
                (await db.People.FindAsync([app.IdOf(SchoolsFixture.SecondInstructor)], Cancel))!.Active = active;
                return await db.SaveChangesAsync(Cancel);
            });
    }

    [Fact]
    public async Task Many_wrong_passwords_lock_the_address_even_for_the_right_one()
    {
        using var http = app.Stranger();
        HttpResponseMessage answer;
        var tries = 0;
        do
        {
            Assert.True(++tries <= 20, "Guessing went on and on.");
            answer = await SignInAsync(http, SchoolsFixture.EmailOf(SchoolsFixture.OtherStudent), "not-the-password");
        } while (answer.StatusCode == HttpStatusCode.Unauthorized);

        await answer.ProblemAsync(HttpStatusCode.TooManyRequests);
        await (await SignInAsync(http, SchoolsFixture.EmailOf(SchoolsFixture.OtherStudent), SchoolsFixture.Password)).ProblemAsync(
            HttpStatusCode.TooManyRequests
        );
    }

    /// <summary>RFC 9110, section 11.1: the name of the scheme is case-insensitive.</summary>
    [Theory]
    [InlineData("Bearer")]
    [InlineData("bearer")]
    [InlineData("BEARER")]
    public async Task The_word_before_a_token_is_taken_in_any_case_and_the_token_as_it_is(string word)
    {
        using var http = app.CreateClient();
        using var signedIn = await SignInAsync(http, SchoolsFixture.EmailOf(SchoolsFixture.Student), SchoolsFixture.Password);
        var token = (await signedIn.Content.ReadFromJsonAsync(WireJson.Default.SessionTokens, Cancel))!.AccessToken;
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue(word, token);
        Assert.Equal(HttpStatusCode.OK, (await http.GetAsync("/api/v1/me", Cancel)).StatusCode);
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue(word, token[1..]);
        Assert.Equal(HttpStatusCode.Unauthorized, (await http.GetAsync("/api/v1/me", Cancel)).StatusCode);
    }

    private HttpClient With(string token)
    {
        var http = app.CreateClient();
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
        return http;
    }

    private static Task<HttpResponseMessage> SignInAsync(HttpClient http, string email, string password) =>
        http.PostAsJsonAsync("/api/v1/session", new SignIn(email, password), WireJson.Default.SignIn, Cancel);
}
