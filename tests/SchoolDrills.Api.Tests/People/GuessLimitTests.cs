using System.Net;
using System.Net.Http.Json;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

/// <summary>One address, here that of all tests of the class, and how often it may be wrong.</summary>
public sealed class GuessLimitTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_whole_school_signs_in_from_one_address()
    {
        using var http = app.Stranger();
        for (var i = 0; i < 75; i++)
        {
            var answer = await SignInAsync(http, SchoolsFixture.EmailOf(SchoolsFixture.Student), SchoolsFixture.Password);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        }
    }

    [Fact]
    public async Task After_sixty_wrong_guesses_the_address_is_told_when_to_come_back()
    {
        using var http = app.Stranger();
        HttpResponseMessage answer;
        var tries = 0;
        do
        {
            Assert.True(++tries <= 200, "Guessing went on and on.");
            answer = await SignInAsync(http, $"guess{tries}@tussockplains.example", "a password");
        } while (answer.StatusCode == HttpStatusCode.Unauthorized);

        Assert.True(tries > 60, $"refused at try {tries}");
        await answer.ProblemAsync(HttpStatusCode.TooManyRequests);
        Assert.InRange(answer.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 60);
    }

    private static Task<HttpResponseMessage> SignInAsync(HttpClient http, string email, string password) =>
        http.PostAsJsonAsync("/api/v1/session", new SignIn(email, password), WireJson.Default.SignIn, Cancel);
}
