using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Health;
using SchoolDrills.Api.Jobs;

namespace SchoolDrills.Api;

/// <summary>The REST API, its database and its jobs, as the host sees them.</summary>
public static class SchoolDrillsApi
{
    public static WebApplicationBuilder AddSchoolDrillsApi(this WebApplicationBuilder builder, DatabaseHost database, HostRole role)
    {
        builder.Services.AddSingleton(typeof(HostRole), role);
        builder.Services.AddSchoolDrillsDatabase(database.Access);
        builder.Services.AddJobs(database.Access, role);
        builder.Services.AddHealth(builder.Configuration);
        return builder;
    }

    public static WebApplication MapSchoolDrillsApi(this WebApplication app)
    {
        app.MapHealth();
        return app;
    }
}
