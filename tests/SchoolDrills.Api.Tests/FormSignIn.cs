using System.Net;
using System.Text.RegularExpressions;
using Xunit;

namespace SchoolDrills.Api.Tests;

/// <summary>Signing in as a browser does: by the page's form, to a cookie.</summary>
internal static partial class FormSignIn
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>The session's cookie, as a browser would send it.</summary>
    public static async Task<string> CookieAsync(this SchoolsFixture app, string person)
    {
        using var http = app.CreateClient(new() { AllowAutoRedirect = false, HandleCookies = false });
        var (cookies, token) = await FormAsync(http);
        using var form = new HttpRequestMessage(HttpMethod.Post, "/sign-in")
        {
            Content = new FormUrlEncodedContent([
                new("__RequestVerificationToken", token),
                new("email", SchoolsFixture.EmailOf(person)),
                new("password", SchoolsFixture.Password),
            ]),
        };
        form.Headers.Add("Cookie", cookies);
        var answer = await http.SendAsync(form, Cancel);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        return Sent(answer).Single(c => c.StartsWith("schooldrills=", StringComparison.Ordinal));
    }

    /// <summary>A form's antiforgery token, with the cookie it goes with.</summary>
    public static async Task<(string Cookies, string Token)> FormAsync(HttpClient http, string? cookie = null)
    {
        using var asked = new HttpRequestMessage(HttpMethod.Get, "/sign-in");
        if (cookie is not null)
            asked.Headers.Add("Cookie", cookie);
        var answer = await http.SendAsync(asked, Cancel);
        var token = AntiforgeryField().Match(await answer.Content.ReadAsStringAsync(Cancel)).Groups[1].Value;
        return (string.Join("; ", Sent(answer).Append(cookie).OfType<string>()), token);
    }

    private static IEnumerable<string> Sent(HttpResponseMessage answer) =>
        answer.Headers.TryGetValues("Set-Cookie", out var cookies) ? cookies.Select(c => c.Split(';')[0]) : [];

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"([^\"]+)\"")]
    private static partial Regex AntiforgeryField();
}
