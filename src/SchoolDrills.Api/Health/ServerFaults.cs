using System.Net.Sockets;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using Npgsql;

namespace SchoolDrills.Api.Health;

/// <summary>
/// Faults of the machine rather than of the program: the database is away, or the disk is full. Each has its own answer, and its own
/// line in the log once a minute: a full disk that is told with every request only fills up further.
/// </summary>
internal sealed class ServerFaults(TimeProvider clock) : IHealthCheck
{
    private static readonly TimeSpan Quiet = TimeSpan.FromMinutes(1);

    /// <summary>ENOSPC as .NET gives it: on Unix the number itself, on Windows ERROR_DISK_FULL.</summary>
    private const int NoSpaceUnix = 28,
        NoSpaceWindows = unchecked((int)0x80070070);

    private readonly Dictionary<int, DateTimeOffset> logged = [];
    private readonly Lock gate = new();
    private DateTimeOffset diskFullAtUtc = DateTimeOffset.MinValue;

    /// <summary>The status that says it: 503, 507 or, for any other fault, 500.</summary>
    public static int StatusOf(Exception? fault)
    {
        for (var e = fault; e is not null; e = e.InnerException)
        {
            if (e is PostgresException { SqlState: PostgresErrorCodes.DiskFull } or IOException { HResult: NoSpaceUnix or NoSpaceWindows })
                return StatusCodes.Status507InsufficientStorage;
            if (
                e is PostgresException refused && IsAway(refused.SqlState)
                || e is NpgsqlException and not PostgresException && e.InnerException is SocketException or TimeoutException or IOException
            )
            {
                return StatusCodes.Status503ServiceUnavailable;
            }
        }

        return StatusCodes.Status500InternalServerError;
    }

    /// <summary>Notes a fault, and says whether it is to be logged.</summary>
    public bool Note(int status)
    {
        var now = clock.GetUtcNow();
        lock (gate)
        {
            if (status == StatusCodes.Status507InsufficientStorage)
                diskFullAtUtc = now;
            if (status == StatusCodes.Status500InternalServerError)
                return true;
            if (logged.TryGetValue(status, out var last) && now - last < Quiet)
                return false;
            logged[status] = now;
            return true;
        }
    }

    /// <summary>Not ready for a minute after the disk was last found full.</summary>
    public Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default)
    {
        lock (gate)
        {
            return Task.FromResult(
                clock.GetUtcNow() - diskFullAtUtc < Quiet ? HealthCheckResult.Unhealthy("the disk is full") : HealthCheckResult.Healthy()
            );
        }
    }

    /// <summary>Connection exceptions (class 08), too many connections, shutting down or starting up.</summary>
    private static bool IsAway(string sqlState) =>
        sqlState.StartsWith("08", StringComparison.Ordinal)
        || sqlState
            is PostgresErrorCodes.TooManyConnections
                or PostgresErrorCodes.AdminShutdown
                or PostgresErrorCodes.CrashShutdown
                or PostgresErrorCodes.CannotConnectNow;
}
