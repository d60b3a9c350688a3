using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Demo;

namespace SchoolDrills.Api.Setup;

/// <summary>How a fresh installation comes to its first school.</summary>
internal static class FirstSchool
{
    /// <summary>The demo school where <c>SCHOOLDRILLS_DEMO</c> is 1, else a link to make one's own; a worker does neither.</summary>
    public static IServiceCollection AddFirstSchool(this IServiceCollection services, IConfiguration configuration, HostRole role)
    {
        if (role == HostRole.Worker)
            return services;
        return configuration["SCHOOLDRILLS_DEMO"] == "1"
            ? services.AddHostedService<DemoSchool>()
            : services.AddHostedService<FirstRunLink>();
    }
}
