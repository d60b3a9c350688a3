using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Diagnostics.HealthChecks;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using SchoolDrills.Api.Watching;

namespace SchoolDrills.Api.Health;

/// <summary>
/// <c>/health/live</c>: the process answers. <c>/health/ready</c>: so do the database and a job server, and the disk is not full.
/// </summary>
internal static class HealthEndpoints
{
    /// <summary>Where <c>SCHOOLDRILLS_METRICS</c> says nothing; it takes another address, or <c>off</c>.</summary>
    private const string UsualMetricsAddress = "http://127.0.0.1:5081";

    public static IServiceCollection AddHealth(this IServiceCollection services, IConfiguration configuration)
    {
        services.AddSingleton<ServerFaults>();
        services
            .AddHealthChecks()
            .AddCheck<DatabaseCheck>("database")
            .AddCheck<JobServerCheck>("jobs")
            .AddCheck<QueueCheck>("queue")
            .AddCheck<ServerFaults>("storage");
        // Somebody who scrapes figures need not ask for readiness as well, and the log says when it changes.
        services.AddSingleton<IHealthCheckPublisher, Readiness>();
        services.Configure<HealthCheckPublisherOptions>(publisher =>
        {
            publisher.Delay = TimeSpan.FromSeconds(5);
            publisher.Period = Installation.Pace;
        });
        var address = configuration["SCHOOLDRILLS_METRICS"] is { Length: > 0 } given ? given : UsualMetricsAddress;
        if (address != "off")
            services.AddHostedService(provider => ActivatorUtilities.CreateInstance<MetricsServer>(provider, address));
        return services;
    }

    public static void MapHealth(this IEndpointRouteBuilder routes)
    {
        routes
            .MapHealthChecks("/health/live", new HealthCheckOptions { Predicate = _ => false, ResponseWriter = WriteAsync })
            .AllowAnonymous();
        routes.MapHealthChecks("/health/ready", new HealthCheckOptions { ResponseWriter = WriteAsync }).AllowAnonymous();
    }

    /// <summary>Words only, no exception texts: the address needs no sign-in.</summary>
    private static Task WriteAsync(HttpContext http, HealthReport report) =>
        http.Response.WriteAsJsonAsync(
            report
                .Entries.ToDictionary(e => e.Key, e => e.Value.Description ?? Word(e.Value.Status))
                .Prepend(new("status", Word(report.Status)))
                .ToDictionary()
        );

    private static string Word(HealthStatus status) => status.ToString().ToLowerInvariant();
}
