using Microsoft.Extensions.Configuration;
using SchoolDrills.Api.Data.Postgres;

namespace SchoolDrills.Api;

/// <summary>What one host process does: serve, score, or both.</summary>
public enum HostRole
{
    All,
    Web,
    Worker,
}

public static class HostRoles
{
    /// <summary>The role from <c>--role</c> (configuration key <c>role</c>), both if nothing is said.</summary>
    /// <exception cref="StartupRefusedException">The word is none of the three.</exception>
    public static HostRole Read(IConfiguration configuration) =>
        configuration["role"]?.ToLowerInvariant() switch
        {
            null or "" or "all" => HostRole.All,
            "web" => HostRole.Web,
            "worker" => HostRole.Worker,
            var other => throw new StartupRefusedException($"--role is web, worker or all, not '{other}'."),
        };
}
