using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Scalar.AspNetCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Areas;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Comparisons;
using SchoolDrills.Api.Corrections;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Desk;
using SchoolDrills.Api.Drafts;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.Grades;
using SchoolDrills.Api.Health;
using SchoolDrills.Api.InFlight;
using SchoolDrills.Api.Jobs;
using SchoolDrills.Api.Notes;
using SchoolDrills.Api.People;
using SchoolDrills.Api.Progress;
using SchoolDrills.Api.Records;
using SchoolDrills.Api.Reminders;
using SchoolDrills.Api.Rescoring;
using SchoolDrills.Api.Schools;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Api.Search;
using SchoolDrills.Api.SelfAssessments;
using SchoolDrills.Api.Setup;
using SchoolDrills.Api.Students;
using SchoolDrills.Api.Uploads;
using SchoolDrills.Api.Watching;
using SchoolDrills.Contracts;
using SchoolDrills.Engine;

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
        builder.AddWatching(role);
        services.AddHealth(builder.Configuration);
        services.AddHostedService<IdleMemory>();
        services.AddSignIn(builder.Configuration);
        services.AddMail(builder.Configuration);
        services.AddRateLimits();
        services.AddSingleton<VisitorAddress>();
        services.AddPagesClient();
        services.AddScoped<ISaveChangesInterceptor, AuditTrail>();
        services.AddSingleton<EachSchool>();
        services.AddSingleton(typeof(Concluded<>));
        services.AddSingleton<ScoringQueue>();
        services.AddSingleton<ScoringSlots>();
        services.AddSingleton(SchoolLimits.Read(builder.Configuration));
        services.AddScoped<SchoolRoom>();
        services.AddScoped<AttemptIntake>();
        services.AddScoped<AttemptRescoring>();
        services.AddScoped<UploadReading>();
        services.AddFirstSchool(builder.Configuration, role);
        services.AddProblemDetails(problems =>
            problems.CustomizeProblemDetails = problem =>
            {
                problem.ProblemDetails.Detail ??= Problems.Sentence(problem.ProblemDetails.Status);
                Problems.AddRetryAfter(problem);
                Watched.Refusal(problem);
            }
        );
        services.AddValidation();
        services.AddOpenApi(OpenApiReference.Name, OpenApiReference.Describe);
        services.AddSingleton<OpenApiFile>();
        services.ConfigureHttpJsonOptions(json =>
        {
            json.SerializerOptions.TypeInfoResolverChain.Insert(0, WireJson.Default);
            json.SerializerOptions.TypeInfoResolverChain.Insert(1, EngineJson.Default);
            json.SerializerOptions.Converters.Add(new UtcTimes());
            json.SerializerOptions.DefaultIgnoreCondition = System.Text.Json.Serialization.JsonIgnoreCondition.WhenWritingNull;
        });
        if (role != HostRole.Web)
        {
            services.AddHostedService<SweepSchedule>();
            services.AddHostedService<ScoringWorker>();
        }

        return builder;
    }

    /// <summary>To be called before the pages are mapped: it adds authentication and the session middleware to the pipeline.</summary>
    public static WebApplication MapSchoolDrillsApi(this WebApplication app)
    {
        app.UseMiddleware<RequestNumber>();
        app.UseMiddleware<VisitorAddress>();
        app.UseExceptionHandler(handler => handler.Run(AnswerFaultAsync));
        app.UseWhen(http => http.Request.Path.StartsWithSegments("/api"), branch => branch.UseStatusCodePages());
        app.UseRouting();
        app.UseAuthentication();
        app.UseMiddleware<SameOrigin>();
        app.UseMiddleware<SessionGate>();
        app.UseRateLimiter();
        app.UseMiddleware<GuessLimit>();
        app.UseAuthorization();
        app.UseWhen(http => http.Request.Path.StartsWithSegments("/api"), branch => branch.UseMiddleware<RequestBodies>());
        app.UseMiddleware<RequestText>();

        app.MapHealth();
        // A worker serves its health checks and nothing else.
        if (app.Services.GetRequiredService<HostRole>() == HostRole.Worker)
            return app;
        app.MapSignInForms();
        app.MapSharing();
        var api = app.MapGroup("/api/v1");
        // Their bodies are long and their work waits its turn: they take a connection for each query.
        api.MapUploads();
        api.MapPending();
        api.MapColumns();
        api.MapDraftTrial();
        MapOnOneConnection(api.MapGroup("").OnOneConnection());
        app.MapReference();
        app.MapScalarApiReference(
            "/api/docs",
            reference => reference.WithTitle("SchoolDrills API").WithOpenApiRoutePattern("/api/{documentName}/openapi.json")
        );
        return app;
    }

    private static void MapOnOneConnection(RouteGroupBuilder api)
    {
        api.MapSession();
        api.MapPasswordConfirmation();
        api.MapPeople();
        api.MapLinks();
        api.MapAccount();
        api.MapNotices();
        api.MapAudit();
        api.MapRecords();
        api.MapDrills();
        api.MapCatalogue();
        api.MapDrafts();
        api.MapStandards();
        api.MapAircraft();
        api.MapPlanning();
        api.MapAreas();
        api.MapAssignments();
        api.MapAssignmentPlans();
        api.MapAttempts();
        api.MapInFlight();
        api.MapFlightLogs();
        api.MapGrades();
        api.MapCorrections();
        api.MapSelfAssessments();
        api.MapComparisons();
        api.MapDrillExample();
        api.MapSettings();
        api.MapProgress();
        api.MapSchoolProgress();
        api.MapStages();
        api.MapSchoolFiles();
        api.MapStudents();
        api.MapStudentNotes();
        api.MapDesk();
        api.MapSearch();
        api.MapFirstRun();
        api.MapStart();
        api.MapRescoring();
        api.MapStatus();
    }

    /// <summary>A fault is logged in full; the answer is one sentence.</summary>
    private static async Task AnswerFaultAsync(HttpContext http)
    {
        var fault = http.Features.Get<IExceptionHandlerFeature>()?.Error;
        var status = fault is BadHttpRequestException bad ? bad.StatusCode : ServerFaults.StatusOf(fault);
        if (status >= 500 && http.RequestServices.GetRequiredService<ServerFaults>().Note(status))
        {
            http.RequestServices.GetRequiredService<ILoggerFactory>()
                .CreateLogger(typeof(SchoolDrillsApi).FullName!)
                .LogError(fault, "{Method} {Path} failed", http.Request.Method, http.Request.Path);
        }

        if (http.Response.HasStarted)
            return;
        await Problems.Fault(status).ExecuteAsync(http);
    }
}
