using System.Diagnostics;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Watching;

/// <summary>How the app runs, for a chief: his school's figures, and of the installation numbers and times alone.</summary>
internal static class StatusEndpoints
{
    /// <summary>Whoever presses "Look again" wants to see what is now.</summary>
    private static readonly TimeSpan Now = TimeSpan.FromSeconds(1);

    private static readonly TimeSpan BackupPatience = TimeSpan.FromDays(2);

    private static readonly AttemptStatus[] Waiting = [AttemptStatus.Queued, AttemptStatus.Scoring];

    public static void MapStatus(this RouteGroupBuilder api) =>
        api.MapGet("/school/status", GetAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("How the app runs: what waits to be scored, workers, backup, storage, versions, and what is amiss");

    private static async Task<Ok<SchoolStatus>> GetAsync(
        SchoolDrillsDbContext db,
        Installation installation,
        DatabaseDisk disk,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var all = await installation.ReadAsync(Now, ct);
        var space = disk.Space;
        var newest = await db
            .Attempts.Where(a => a.LatestReportId != null)
            .OrderByDescending(a => a.UploadedAtUtc)
            .Select(a => new { a.Id, a.UploadedAtUtc })
            .FirstOrDefaultAsync(ct);
        // Of a recording that was rescored, the first score is what somebody waited for.
        var firstScored = newest is null
            ? null
            : await db.ScoreReports.Where(r => r.AttemptId == newest.Id).MinAsync(r => (DateTimeOffset?)r.ScoredAtUtc, ct);
        // Counted as they come and go: a sum would open every recording of years.
        var bytes = await db.Schools.Select(s => s.StoredBytes).SingleAsync(ct);
        using var process = Process.GetCurrentProcess();
        return TypedResults.Ok(
            new SchoolStatus(
                clock.GetUtcNow(),
                process.StartTime.ToUniversalTime(),
                [.. Troubles(all, space)],
                new WaitingToBeScored(await db.Attempts.CountAsync(a => Waiting.Contains(a.Status), ct), all.Waiting, all.OldestSinceUtc),
                new WorkersSeen(all.Workers, all.WorkerSeenAtUtc),
                new StorageUsed(bytes, space?.FreeBytes, space?.Bytes),
                new RunningVersions(Telemetry.Version, AttemptScorer.EngineVersion, all.SchemaVersion, all.PostgresVersion),
                all.BackupAtUtc is { } at ? new BackupMade(at, all.BackupBytes!.Value) : null,
                firstScored is { } scored ? new LastScored(newest!.Id, scored, (scored - newest.UploadedAtUtc).TotalSeconds) : null
            )
        );
    }

    private static IEnumerable<StatusTrouble> Troubles(InstallationReading all, (long FreeBytes, long Bytes)? space)
    {
        if (all.Workers == 0)
            yield return StatusTrouble.NoWorker;
        if (all.OldestWaits >= Installation.ScoringPatience)
            yield return StatusTrouble.ScoringStandsStill;
        if (space is { } disk && disk.FreeBytes < disk.Bytes * DatabaseDisk.LowShare)
            yield return StatusTrouble.DiskLow;
        if (all.BackupAtUtc is null)
            yield return StatusTrouble.NoBackupKnown;
        else if (all.AtUtc - all.BackupAtUtc > BackupPatience)
            yield return StatusTrouble.BackupOld;
    }
}
