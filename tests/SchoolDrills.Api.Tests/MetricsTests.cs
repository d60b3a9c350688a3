using System.Diagnostics.Metrics;
using Microsoft.Extensions.Logging.Abstractions;
using SchoolDrills.Api.Health;
using Xunit;

namespace SchoolDrills.Api.Tests;

public sealed class MetricsTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Figures_of_the_app_are_served_as_Prometheus_reads_them_and_those_of_others_are_not()
    {
        var server = new MetricsServer("http://127.0.0.1:0", NullLogger<MetricsServer>.Instance);
        await server.StartAsync(Cancel);
        try
        {
            using var ours = new Meter("SchoolDrills");
            using var others = new Meter("Somebody.Else");
            var uploads = ours.CreateCounter<long>("schooldrills.test.uploads");
            uploads.Add(2, new KeyValuePair<string, object?>("format", "gpx"));
            uploads.Add(1, new KeyValuePair<string, object?>("format", "gpx"));
            others.CreateCounter<long>("somebody.count").Add(1);

            using var http = new HttpClient();
            var text = await http.GetStringAsync(new Uri($"{server.Address}/metrics"), Cancel);
            Assert.Contains("schooldrills_test_uploads_total", text, StringComparison.Ordinal);
            Assert.Contains("format=\"gpx\"} 3", text, StringComparison.Ordinal);
            Assert.DoesNotContain("somebody", text, StringComparison.Ordinal);
        }
        finally
        {
            await server.StopAsync(Cancel);
        }
    }

    [Fact]
    public async Task A_taken_address_costs_the_figures_and_not_the_service()
    {
        var first = new MetricsServer("http://127.0.0.1:0", NullLogger<MetricsServer>.Instance);
        await first.StartAsync(Cancel);
        var second = new MetricsServer(first.Address!, NullLogger<MetricsServer>.Instance);
        await second.StartAsync(Cancel);
        Assert.NotNull(first.Address);
        Assert.Null(second.Address);
        await first.StopAsync(Cancel);
    }
}
