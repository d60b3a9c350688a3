using Hangfire;

namespace SchoolDrills.Api.Scoring;

/// <summary>What has become of a job.</summary>
internal static class QueuedJobs
{
    private static readonly string[] Alive = ["Enqueued", "Processing", "Scheduled", "Awaiting"];

    /// <summary>Whether it waits or runs; one that was never queued, or of a process that died before it was, does not.</summary>
    public static bool IsAlive(JobStorage storage, string? jobId) => Alive.Contains(StateOf(storage, jobId));

    public static string? StateOf(JobStorage storage, string? jobId) =>
        jobId is null ? null : storage.GetMonitoringApi().JobDetails(jobId)?.History.FirstOrDefault()?.StateName;
}
