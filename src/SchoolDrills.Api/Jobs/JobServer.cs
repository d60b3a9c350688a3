using Hangfire;
using Hangfire.PostgreSql;
using Hangfire.States;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Scoring;

namespace SchoolDrills.Api.Jobs;

/// <summary>The job queue in PostgreSQL, and the server that works it off where the host's role asks for one.</summary>
internal static class JobServer
{
    // A killed worker's job is taken up again within InvisibilityTimeout plus a poll; a live one keeps renewing its hold.
    private static readonly PostgreSqlStorageOptions Storage = new()
    {
        SchemaName = DatabaseAccess.HangfireSchema,
        UseSlidingInvisibilityTimeout = true,
        InvisibilityTimeout = TimeSpan.FromSeconds(30),
        // The lock of a killed worker stays in the table: whoever wants it next removes it when it is so old. None is held for a second.
        DistributedLockTimeout = TimeSpan.FromSeconds(15),
        QueuePollInterval = TimeSpan.FromSeconds(1),
    };

    public static IServiceCollection AddJobs(this IServiceCollection services, DatabaseAccess access, HostRole role)
    {
        services.AddHangfire(hangfire =>
            hangfire
                .UseSimpleAssemblyNameTypeSerializer()
                .UseRecommendedSerializerSettings()
                .UsePostgreSqlStorage(storage => storage.UseNpgsqlConnection(access.Hangfire), Storage)
        );
        if (role != HostRole.Web)
        {
            services.AddHangfireServer(server =>
            {
                // In this order: nobody waits behind attempts that are rescored.
                server.Queues = [EnqueuedState.DefaultQueue, ScoreAttemptJob.PatientQueue];
                server.HeartbeatInterval = TimeSpan.FromSeconds(5);
                server.ServerCheckInterval = TimeSpan.FromSeconds(5);
                server.ServerTimeout = TimeSpan.FromSeconds(15);
                server.SchedulePollingInterval = TimeSpan.FromSeconds(5);
                server.WorkerCount = Math.Clamp(Environment.ProcessorCount, 1, 8);
            });
        }

        return services;
    }
}
