using System.Net;
using Xunit;

namespace SchoolDrills.Api.Tests;

public sealed class HealthTests(HealthTests.WithJobs app) : IClassFixture<HealthTests.WithJobs>
{
    [Fact(Timeout = 300_000)]
    public async Task A_host_whose_database_and_job_server_answer_is_ready()
    {
        using var http = app.CreateClient();
        // The job server shows itself a moment after the host has started.
        var answer = await http.GetAsync("/health/ready", TestContext.Current.CancellationToken);
        while (answer.StatusCode == HttpStatusCode.ServiceUnavailable)
        {
            await Task.Delay(50, TestContext.Current.CancellationToken);
            answer = await http.GetAsync("/health/ready", TestContext.Current.CancellationToken);
        }

        Assert.Equal(
            """{"status":"healthy","database":"healthy","jobs":"healthy","queue":"healthy","storage":"healthy"}""",
            await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)
        );
    }

    [Fact]
    public async Task Liveness_asks_nothing_of_the_database()
    {
        using var http = app.CreateClient();
        Assert.Equal("""{"status":"healthy"}""", await http.GetStringAsync("/health/live", TestContext.Current.CancellationToken));
    }

    public sealed class WithJobs : ApiFixture
    {
        protected override bool RunsJobs => true;
    }
}
