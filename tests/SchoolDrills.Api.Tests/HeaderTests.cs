using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace SchoolDrills.Api.Tests;

/// <summary>What answers tell browsers, and whom the host believes about the visitor.</summary>
public sealed partial class HeaderTests(HeaderTests.BehindProxy app) : IClassFixture<HeaderTests.BehindProxy>
{
    private const string Proxy = "10.1.2.3";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("/sign-in")]
    [InlineData("/api/v1/me")]
    [InlineData("/api/v1/openapi.json")]
    [InlineData("/css/theme.css")]
    [InlineData("/no-such-page")]
    public async Task Every_answer_carries_the_policy(string path)
    {
        using var http = app.CreateClient();
        var answer = await http.GetAsync(path, Cancel);
        var policy = Policy(answer);
        foreach (
            var rule in (string[])
                ["default-src 'self'", "object-src 'none'", "base-uri 'self'", "form-action 'self'", "frame-ancestors 'none'"]
        )
        {
            Assert.Contains(rule, policy, StringComparison.Ordinal);
        }

        Assert.DoesNotContain("unsafe", ScriptRule().Match(policy).Value, StringComparison.Ordinal);
        Assert.Equal("nosniff", Header(answer, "X-Content-Type-Options"));
        Assert.Equal("no-referrer", Header(answer, "Referrer-Policy"));
        Assert.Equal("same-origin", Header(answer, "Cross-Origin-Opener-Policy"));
        Assert.False(answer.Headers.Contains("Server"));
    }

    [Fact]
    public async Task The_one_script_inside_a_page_has_the_nonce_of_its_answer_and_each_answer_another()
    {
        using var http = app.CreateClient();
        var nonces = new HashSet<string>();
        for (var i = 0; i < 3; i++)
        {
            var answer = await http.GetAsync("/sign-in", Cancel);
            var nonce = Nonce().Match(Policy(answer)).Groups[1].Value;
            Assert.True(nonces.Add(nonce));
            var scripts = InnerScript().Matches(await answer.Content.ReadAsStringAsync(Cancel));
            Assert.All(scripts, s => Assert.Contains($"nonce=\"{nonce}\"", WebUtility.HtmlDecode(s.Value), StringComparison.Ordinal));
        }
    }

    [Theory]
    [InlineData("/api/v1/me")]
    [InlineData("/sign-in")]
    public async Task What_is_personal_is_kept_by_nobody_on_the_way(string path)
    {
        using var http = app.CreateClient();
        Assert.True((await http.GetAsync(path, Cancel)).Headers.CacheControl?.NoStore);
    }

    [Fact]
    public async Task The_session_cookie_is_out_of_scripts_reach_and_secure_when_the_proxy_says_TLS()
    {
        foreach (var (from, isSecure) in ((string, bool)[])[(Proxy, true), ("192.0.2.7", false)])
        {
            // Cookies by hand: the test speaks plain HTTP, over which a jar would not send a secure one.
            using var http = app.CreateClient(new() { AllowAutoRedirect = false, HandleCookies = false });
            using var form = await FormAsync(http, from);
            var answer = await http.SendAsync(form, Cancel);
            Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
            var cookie = Assert.Single(
                answer.Headers.GetValues("Set-Cookie"),
                c => c.StartsWith(isSecure ? "__Host-schooldrills=" : "schooldrills=", StringComparison.Ordinal)
            );
            Assert.Contains("path=/;", cookie, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("domain", cookie, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("samesite=lax", cookie, StringComparison.OrdinalIgnoreCase);
            Assert.Equal((from, isSecure), (from, cookie.Contains("secure", StringComparison.OrdinalIgnoreCase)));
        }
    }

    [Fact]
    public async Task Over_TLS_a_cookie_that_a_subdomain_could_have_set_counts_for_nothing()
    {
        using var http = app.CreateClient(new() { AllowAutoRedirect = false, HandleCookies = false });
        using var form = await FormAsync(http, Proxy);
        var answer = await http.SendAsync(form, Cancel);
        var cookie = answer
            .Headers.GetValues("Set-Cookie")
            .Select(c => c.Split(';')[0])
            .Single(c => c.Contains("schooldrills=", StringComparison.Ordinal));
        foreach (
            var (sent, wanted) in ((string, HttpStatusCode)[])
                [(cookie, HttpStatusCode.OK), (cookie["__Host-".Length..], HttpStatusCode.Unauthorized)]
        )
        {
            using var asked = new HttpRequestMessage(HttpMethod.Get, "/api/v1/me");
            Told(asked, Proxy);
            asked.Headers.Add("Cookie", sent);
            Assert.Equal(wanted, (await http.SendAsync(asked, Cancel)).StatusCode);
        }
    }

    [Fact]
    public async Task A_form_without_its_antiforgery_token_signs_nobody_in()
    {
        using var http = app.CreateClient(new() { AllowAutoRedirect = false });
        using var form = new FormUrlEncodedContent([
            new("email", SchoolsFixture.EmailOf(SchoolsFixture.Chief)),
            new("password", SchoolsFixture.Password),
        ]);
        var answer = await http.PostAsync("/sign-in", form, Cancel);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.False(
            answer.Headers.TryGetValues("Set-Cookie", out var cookies)
                && cookies.Any(c => c.StartsWith("schooldrills=", StringComparison.Ordinal))
        );
    }

    private static async Task<HttpRequestMessage> FormAsync(HttpClient http, string from)
    {
        using var asked = new HttpRequestMessage(HttpMethod.Get, "/sign-in");
        Told(asked, from);
        var page = await http.SendAsync(asked, Cancel);
        var token = AntiforgeryField().Match(await page.Content.ReadAsStringAsync(Cancel)).Groups[1].Value;
        var form = new HttpRequestMessage(HttpMethod.Post, "/sign-in")
        {
            Content = new FormUrlEncodedContent([
                new("__RequestVerificationToken", token),
                new("email", SchoolsFixture.EmailOf(SchoolsFixture.Chief)),
                new("password", SchoolsFixture.Password),
            ]),
        };
        Told(form, from);
        form.Headers.Add("Cookie", page.Headers.GetValues("Set-Cookie").Select(c => c.Split(';')[0]));
        return form;
    }

    private static void Told(HttpRequestMessage request, string from)
    {
        request.Headers.Add(BehindProxy.Peer, from);
        request.Headers.Add("X-Forwarded-For", "203.0.113.9");
        request.Headers.Add("X-Forwarded-Proto", "https");
    }

    private static string Policy(HttpResponseMessage answer) => Header(answer, "Content-Security-Policy");

    private static string Header(HttpResponseMessage answer, string name) => string.Join("; ", answer.Headers.GetValues(name));

    [GeneratedRegex("script-src[^;]*")]
    private static partial Regex ScriptRule();

    [GeneratedRegex("'nonce-([^']+)'")]
    private static partial Regex Nonce();

    [GeneratedRegex("<script(?![^>]*src=)[^>]*>")]
    private static partial Regex InnerScript();

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"([^\"]+)\"")]
    private static partial Regex AntiforgeryField();

    /// <summary>A host that believes one proxy; which peer a request comes from, the test says.</summary>
    public sealed class BehindProxy : SchoolsFixture
    {
        public const string Peer = "X-Test-Peer";

        protected override void ConfigureWebHost(IWebHostBuilder builder)
        {
            base.ConfigureWebHost(builder);
            builder.UseSetting("SCHOOLDRILLS_PROXY", Proxy);
            builder.ConfigureTestServices(services => services.AddSingleton<IStartupFilter, PeerOf>());
        }
    }

    private sealed class PeerOf : IStartupFilter
    {
        public Action<IApplicationBuilder> Configure(Action<IApplicationBuilder> next) =>
            app =>
            {
                app.Use(
                    (http, rest) =>
                    {
                        http.Connection.RemoteIpAddress = IPAddress.TryParse(http.Request.Headers[BehindProxy.Peer], out var peer)
                            ? peer
                            : IPAddress.Loopback;
                        return rest(http);
                    }
                );
                next(app);
            };
    }
}
