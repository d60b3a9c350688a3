using System.Diagnostics.Metrics;
using Microsoft.Extensions.Hosting;
using Npgsql;

namespace SchoolDrills.Api.Watching;

/// <summary>
/// Gauges of the whole installation, on the hosts that serve: those outlive a queue that nobody works off. The database is asked at a
/// pace of its own, and a scrape gets the newest answer, or none where it is old.
/// </summary>
internal sealed class InstallationWatch : BackgroundService
{
    private static readonly TimeSpan Stale = TimeSpan.FromMinutes(1);

    private readonly Installation installation;
    private readonly TimeProvider clock;

    public InstallationWatch(Instruments instruments, Installation installation, DatabaseDisk disk, TimeProvider clock)
    {
        (this.installation, this.clock) = (installation, clock);
        var meter = instruments.Own;
        Gauge("schooldrills.queue.waiting", "{recording}", "Recordings that wait to be scored", r => r.Waiting);
        Gauge("schooldrills.queue.oldest.age", "s", "How long the oldest of them has waited", r => r.OldestWaits.TotalSeconds);
        Gauge("schooldrills.workers", "{worker}", "Workers that showed themselves lately", r => r.Workers);
        Gauge(
            "schooldrills.backup.age",
            "s",
            "Time since the last backup that is known of",
            r => (clock.GetUtcNow() - r.BackupAtUtc)?.TotalSeconds
        );
        Gauge("schooldrills.backup.size", "By", "Size of the last backup that is known of", r => r.BackupBytes);
        meter.CreateObservableGauge(
            "schooldrills.disk.free",
            () => Some(disk.Space?.FreeBytes),
            "By",
            "Free where the private database is"
        );
        meter.CreateObservableGauge(
            "schooldrills.disk.size",
            () => Some(disk.Space?.Bytes),
            "By",
            "Size of the disk the private database is on"
        );

        void Gauge(string name, string unit, string description, Func<InstallationReading, double?> value) =>
            meter.CreateObservableGauge(name, () => Some(Fresh is { } reading ? value(reading) : null), unit, description);
    }

    private InstallationReading? Fresh => installation.Newest is { } newest && clock.GetUtcNow() - newest.AtUtc < Stale ? newest : null;

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Installation.Pace, clock);
        do
        {
            try
            {
                await installation.ReadAsync(Installation.Pace / 2, stoppingToken);
            }
            catch (NpgsqlException)
            {
                // The health checks say so; the gauges then have nothing to tell.
            }
        } while (await timer.WaitForNextTickAsync(stoppingToken));
    }

    private static IEnumerable<Measurement<double>> Some(double? value) => value is { } known ? [new(known)] : [];
}
