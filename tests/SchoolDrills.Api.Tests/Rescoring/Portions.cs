using Hangfire;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Rescoring;
using Xunit;

namespace SchoolDrills.Api.Tests.Rescoring;

/// <summary>Rescoring as a worker does it, by hand.</summary>
internal static class Portions
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public static async Task DoAsync(ApiFixture app, Guid rescoringId, Guid schoolId, int most = RescoringJob.AtOnce)
    {
        await using var scope = app.Services.CreateAsyncScope();
        await ActivatorUtilities.CreateInstance<RescoringJob>(scope.ServiceProvider).PortionAsync(rescoringId, schoolId, most, Cancel);
    }

    public static async Task SweepAsync(ApiFixture app)
    {
        await using var scope = app.Services.CreateAsyncScope();
        await ActivatorUtilities.CreateInstance<RescoringSweep>(scope.ServiceProvider).RunAsync(Cancel);
    }

    /// <summary>The queue in which a job waits.</summary>
    public static string QueueOf(ApiFixture app, string jobId) =>
        app.Services.GetRequiredService<JobStorage>().GetMonitoringApi().JobDetails(jobId).History[0].Data["Queue"];
}
