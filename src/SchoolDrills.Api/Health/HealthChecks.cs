using Hangfire;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using Npgsql;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Watching;

namespace SchoolDrills.Api.Health;

/// <summary>Opens a connection as the app does.</summary>
internal sealed class DatabaseCheck(DatabaseAccess access) : IHealthCheck
{
    public async Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default)
    {
        try
        {
            await using var connection = new NpgsqlConnection(access.App);
            await connection.OpenAsync(cancellationToken);
            await using var command = new NpgsqlCommand("select 1", connection);
            await command.ExecuteScalarAsync(cancellationToken);
            return HealthCheckResult.Healthy();
        }
        catch (NpgsqlException e)
        {
            return HealthCheckResult.Unhealthy("does not answer", e);
        }
    }
}

/// <summary>
/// A job server somewhere has shown itself lately. A host that only serves stays in service without one: uploads are
/// kept and scored when a worker is back.
/// </summary>
internal sealed class JobServerCheck(JobStorage storage, HostRole role) : IHealthCheck
{
    public Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default)
    {
        try
        {
            var lately = DateTime.UtcNow - Installation.HeartbeatPatience;
            return Task.FromResult(
                storage.GetMonitoringApi().Servers().Any(server => server.Heartbeat > lately)
                    ? HealthCheckResult.Healthy()
                    : new HealthCheckResult(
                        role == HostRole.Web ? HealthStatus.Degraded : HealthStatus.Unhealthy,
                        "no worker has been seen lately"
                    )
            );
        }
        catch (NpgsqlException e)
        {
            return Task.FromResult(HealthCheckResult.Unhealthy("the queue does not answer", e));
        }
    }
}

/// <summary>
/// Nothing has waited long to be scored. A morning's uploads may: the host goes on serving, and says for how long the oldest has waited.
/// </summary>
internal sealed class QueueCheck(Installation installation) : IHealthCheck
{
    public async Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default)
    {
        try
        {
            var waits = (await installation.ReadAsync(cancellationToken)).OldestWaits;
            return waits < Installation.ScoringPatience
                ? HealthCheckResult.Healthy()
                : HealthCheckResult.Degraded($"the oldest recording has waited {waits.TotalMinutes:0} minutes to be scored");
        }
        catch (NpgsqlException e)
        {
            return HealthCheckResult.Unhealthy("the queue does not answer", e);
        }
    }
}
