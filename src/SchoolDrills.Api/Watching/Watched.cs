using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;

namespace SchoolDrills.Api.Watching;

/// <summary>Everything by which this host can be watched.</summary>
internal static class Watched
{
    public static void AddWatching(this IHostApplicationBuilder builder, HostRole role)
    {
        builder.Services.AddSingleton<Instruments>();
        builder.Services.AddSingleton<Installation>();
        builder.Services.AddSingleton<DatabaseDisk>();
        if (role != HostRole.Worker)
            builder.Services.AddHostedService<InstallationWatch>();
        builder.AddTelemetry();
    }

    /// <summary>Counts a refusal, and gives its body the number of the request, for a person to quote.</summary>
    public static void Refusal(ProblemDetailsContext problem)
    {
        var details = problem.ProblemDetails;
        var status = details.Status ?? problem.HttpContext.Response.StatusCode;
        problem.HttpContext.RequestServices.GetRequiredService<Instruments>().Refused(details.Type, status);
        details.Extensions["traceId"] = Traces.Number;
    }
}
