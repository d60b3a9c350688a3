using Microsoft.Extensions.Diagnostics.HealthChecks;
using Microsoft.Extensions.Logging;
using SchoolDrills.Api.Watching;

namespace SchoolDrills.Api.Health;

/// <summary>Hands what the checks find to the gauges, and writes a line in the log when the host stops or starts being ready.</summary>
internal sealed class Readiness(Instruments instruments, ILogger<Readiness> log) : IHealthCheckPublisher
{
    private bool? wasReady;

    public Task PublishAsync(HealthReport report, CancellationToken cancellationToken)
    {
        var ready = report.Status != HealthStatus.Unhealthy;
        instruments.Checked(ready, report.Entries.ToDictionary(e => e.Key, e => e.Value.Status == HealthStatus.Healthy));
        if (wasReady is true && !ready)
        {
            var amiss = report.Entries.Where(e => e.Value.Status != HealthStatus.Healthy).Select(e => $"{e.Key}: {e.Value.Description}");
            log.LogWarning("Not ready: {Amiss}", string.Join("; ", amiss));
        }
        else if (wasReady is false && ready)
        {
            log.LogInformation("Ready again");
        }

        wasReady = ready;
        return Task.CompletedTask;
    }
}
