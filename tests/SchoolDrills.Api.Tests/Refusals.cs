using System.Net;
using System.Text.Json;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests;

internal static class Refusals
{
    /// <summary>The call is refused with this status and says why in a sentence.</summary>
    public static async Task<ApiProblemException> RefusedAsync(HttpStatusCode status, Func<Task> call)
    {
        var problem = await Assert.ThrowsAsync<ApiProblemException>(call);
        Assert.True(status == problem.Status, $"Wanted {(int)status}, got {(int)problem.Status}: {problem.Message}");
        return problem;
    }

    /// <summary>Problem details (RFC 9457) with what the contract asks of them: status, a stable type and a sentence.</summary>
    public static async Task<JsonElement> ProblemAsync(this HttpResponseMessage response, HttpStatusCode status)
    {
        var body = await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(status == response.StatusCode, $"Wanted {(int)status}, got {(int)response.StatusCode}: {body}");
        Assert.Equal("application/problem+json", response.Content.Headers.ContentType?.MediaType);
        var problem = JsonDocument.Parse(body).RootElement;
        Assert.Equal((int)status, problem.GetProperty("status").GetInt32());
        Assert.NotEmpty(problem.GetProperty("type").GetString()!);
        Assert.EndsWith(".", problem.GetProperty("detail").GetString()!, StringComparison.Ordinal);
        return problem;
    }
}
