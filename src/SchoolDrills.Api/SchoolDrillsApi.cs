using Hangfire;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using Microsoft.Extensions.Hosting;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.Health;
using SchoolDrills.Api.Jobs;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;
using SchoolDrills.Engine;
using Scalar.AspNetCore;

namespace SchoolDrills.Api;

/// <summary>The REST API, its database and its jobs, as the host sees them.</summary>
public static class SchoolDrillsApi
{
    public static WebApplicationBuilder AddSchoolDrillsApi(this WebApplicationBuilder builder, DatabaseHost database, HostRole role)
    {
        var services = builder.Services;
        services.AddSingleton(typeof(HostRole), role);
        services.TryAddSingleton(TimeProvider.System);
        services.AddSchoolDrillsDatabase(database.Access);
        services.AddJobs(database.Access, role);
        services.AddHealth(builder.Configuration);
        services.AddSignIn();
        services.AddRateLimits();
        services.AddPagesClient();
        services.AddScoped<AttemptIntake>();
        services.AddProblemDetails();
        services.AddValidation();
        services.AddOpenApi("v1", OpenApiReference.Describe);
        services.ConfigureHttpJsonOptions(json =>
        {
            json.SerializerOptions.TypeInfoResolverChain.Insert(0, WireJson.Default);
            json.SerializerOptions.TypeInfoResolverChain.Insert(1, EngineJson.Default);
            json.SerializerOptions.DefaultIgnoreCondition = System.Text.Json.Serialization.JsonIgnoreCondition.WhenWritingNull;
        });
        if (role != HostRole.Web) services.AddHostedService<SweepSchedule>();
        return builder;
    }

    /// <summary>To be called before the pages are mapped: it puts authentication and the school's gate into the pipeline.</summary>
    public static WebApplication MapSchoolDrillsApi(this WebApplication app)
    {
        app.UseExceptionHandler(handler => handler.Run(AnswerFaultAsync));
        app.UseWhen(http => http.Request.Path.StartsWithSegments("/api"), branch => branch.UseStatusCodePages());
        app.UseRouting();
        app.UseAuthentication();
        app.UseMiddleware<SessionGate>();
        app.UseRateLimiter();
        app.UseAuthorization();

        app.MapHealth();
        app.MapSignInForms();
        var api = app.MapGroup("/api/v1");
        api.MapSession();
        api.MapPeople();
        api.MapDrills();
        api.MapCatalogue();
        api.MapAssignments();
        api.MapUploads();
        api.MapAttempts();
        api.MapOnBoard();
        app.MapOpenApi("/api/{documentName}/openapi.json");
        app.MapScalarApiReference("/api/docs", reference => reference.WithTitle("SchoolDrills API").WithOpenApiRoutePattern("/api/{documentName}/openapi.json"));
        return app;
    }

    /// <summary>A fault is logged in full and told in one sentence.</summary>
    private static async Task AnswerFaultAsync(HttpContext http)
    {
        if (http.Response.HasStarted) return;
        var status = http.Features.Get<Microsoft.AspNetCore.Diagnostics.IExceptionHandlerFeature>()?.Error is BadHttpRequestException bad ? bad.StatusCode : StatusCodes.Status500InternalServerError;
        var detail = status switch
        {
            StatusCodes.Status413PayloadTooLarge => "The request is too large: a recording may have 64 MiB.",
            < 500 => "The request is not well formed: see the reference of the endpoint.",
            _ => "Something went wrong on the server; nothing was changed. Try again, and tell whoever looks after it if it stays so.",
        };
        await TypedResults.Problem(detail, statusCode: status).ExecuteAsync(http);
    }

    private sealed class SweepSchedule(IRecurringJobManager recurring) : IHostedService
    {
        public Task StartAsync(CancellationToken cancellationToken)
        {
            recurring.AddOrUpdate<ScoreSweep>(ScoreSweep.Name, sweep => sweep.RunAsync(CancellationToken.None), Cron.Minutely);
            return Task.CompletedTask;
        }

        public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;
    }
}
