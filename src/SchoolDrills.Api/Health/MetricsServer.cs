using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using OpenTelemetry.Metrics;
using SchoolDrills.Api.Watching;

namespace SchoolDrills.Api.Health;

/// <summary>
/// <c>/metrics</c> for Prometheus, by OpenTelemetry, on a port of its own, so that the app's address never shows them: loopback unless
/// an address is given.
/// </summary>
internal sealed class MetricsServer(string address, ILogger<MetricsServer> logger) : IHostedService
{
    private WebApplication? server;

    /// <summary>Where it listens, once started; null where it could not.</summary>
    public string? Address => server?.Urls.FirstOrDefault();

    public async Task StartAsync(CancellationToken cancellationToken)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls(address);
        builder.Logging.ClearProviders();
        builder.Services.AddOpenTelemetry().WithMetrics(metrics => metrics.AddMeter(Telemetry.Meters).AddPrometheusExporter());
        var server = builder.Build();
        server.MapPrometheusScrapingEndpoint();
        try
        {
            await server.StartAsync(cancellationToken);
            this.server = server;
        }
        catch (IOException e)
        {
            // Figures are worth less than the service they are about.
            logger.LogWarning("No metrics: {Problem}", e.Message);
            await server.DisposeAsync();
        }
    }

    public async Task StopAsync(CancellationToken cancellationToken) => await (server?.DisposeAsync() ?? ValueTask.CompletedTask);
}
