using System.Net;
using System.Text.Json;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using SchoolDrills.Api.Watching;
using Xunit;

namespace SchoolDrills.Api.Tests.Watching;

public sealed class RequestNumberTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("/api/v1/me")]
    [InlineData("/api/v1/nothing-here")]
    [InlineData("/sign-in")]
    [InlineData("/health/live")]
    public async Task Every_answer_has_a_number_and_every_problem_the_same(string path)
    {
        using var answer = await app.Stranger().GetAsync(path, Cancel);
        var number = Assert.Single(answer.Headers.GetValues("X-Request-Id"));
        Assert.Matches("^[0-9a-f]{32}$", number);
        if (answer.Content.Headers.ContentType?.MediaType != "application/problem+json")
            return;
        using var problem = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(Cancel));
        Assert.Equal(number, problem.RootElement.GetProperty("traceId").GetString());
    }

    [Fact]
    public async Task A_trace_that_came_with_the_request_goes_on_and_what_is_none_is_left()
    {
        // The example of https://www.w3.org/TR/trace-context/#traceparent-header.
        const string Given = "4bf92f3577b34da6a3ce929d0e0e4736";
        using var traced = new HttpRequestMessage(HttpMethod.Get, "/api/v1/me");
        traced.Headers.Add("traceparent", $"00-{Given}-00f067aa0ba902b7-01");
        using var goesOn = await app.Stranger().SendAsync(traced, Cancel);
        Assert.Equal(Given, Assert.Single(goesOn.Headers.GetValues("X-Request-Id")));

        using var other = new HttpRequestMessage(HttpMethod.Get, "/api/v1/me");
        other.Headers.Add("traceparent", "<script>");
        other.Headers.Add("X-Request-Id", "mine");
        using var own = await app.Stranger().SendAsync(other, Cancel);
        Assert.Equal(HttpStatusCode.Unauthorized, own.StatusCode);
        Assert.Matches("^[0-9a-f]{32}$", Assert.Single(own.Headers.GetValues("X-Request-Id")));
    }

    [Fact]
    public void A_line_of_the_log_has_the_number_for_people_and_as_JSON()
    {
        using var request = Traces.Continue("request", "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01");
        var plain = Line("");
        Assert.StartsWith("warn: Some.Category [4bf92f3577b34da6a3ce929d0e0e4736]", plain, StringComparison.Ordinal);
        Assert.Contains("3 are late", plain, StringComparison.Ordinal);

        var json = Line("json");
        Assert.Equal(json.IndexOf('\n', StringComparison.Ordinal), json.Length - 1);
        using var entry = JsonDocument.Parse(json);
        Assert.Equal("4bf92f3577b34da6a3ce929d0e0e4736", entry.RootElement.GetProperty("traceId").GetString());
        Assert.Equal("Warning", entry.RootElement.GetProperty("level").GetString());
        Assert.Equal("3 are late", entry.RootElement.GetProperty("message").GetString());
        Assert.Equal("3", entry.RootElement.GetProperty("fields").GetProperty("Count").GetString());
        Assert.Contains("no such thing", entry.RootElement.GetProperty("exception").GetString(), StringComparison.Ordinal);
    }

    private static string Line(string log)
    {
        var configuration = new ConfigurationBuilder().AddInMemoryCollection([new("SCHOOLDRILLS_LOG", log)]).Build();
        KeyValuePair<string, object?>[] state = [new("Count", 3), new("{OriginalFormat}", "{Count} are late")];
        var entry = new LogEntry<KeyValuePair<string, object?>[]>(
            LogLevel.Warning,
            "Some.Category",
            default,
            state,
            new InvalidOperationException("no such thing"),
            (_, _) => "3 are late"
        );
        using var to = new StringWriter { NewLine = "\n" };
        new LogLines(configuration).Write(in entry, null, to);
        return to.ToString();
    }
}
