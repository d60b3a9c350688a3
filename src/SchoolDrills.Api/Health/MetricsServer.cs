using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace SchoolDrills.Api.Health;

/// <summary>
/// <c>/metrics</c> on a port of its own, so that the app's address never shows them: loopback unless an address is given.
/// </summary>
internal sealed class MetricsServer(string address, ILogger<MetricsServer> logger) : IHostedService, IDisposable
{
    private readonly MetricsText _metrics = new();
    private WebApplication? _server;

    public async Task StartAsync(CancellationToken cancellationToken)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls(address);
        builder.Logging.ClearProviders();
        var server = builder.Build();
        server.MapGet("/metrics", () => Results.Text(_metrics.Write(), "text/plain; version=0.0.4"));
        try
        {
            await server.StartAsync(cancellationToken);
            _server = server;
        }
        catch (IOException e)
        {
            // Figures are worth less than the service they are about.
            logger.LogWarning("No metrics: {Problem}", e.Message);
            await server.DisposeAsync();
        }
    }

    public async Task StopAsync(CancellationToken cancellationToken) => await (_server?.DisposeAsync() ?? ValueTask.CompletedTask);

    public void Dispose() => _metrics.Dispose();
}
