using System.Linq.Expressions;
using Hangfire;
using Hangfire.Storage;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using SchoolDrills.Api.Drafts;
using SchoolDrills.Api.Reminders;
using SchoolDrills.Api.Rescoring;
using SchoolDrills.Api.Uploads;

namespace SchoolDrills.Api;

/// <summary>
/// What is done again and again, whatever is asked. Each minute it looks whether one of them is due later than its interval allows: a
/// worker whose clock ran ahead put them off by as much, for all workers.
/// </summary>
internal sealed class SweepSchedule(IRecurringJobManager recurring, JobStorage storage, TimeProvider clock, ILogger<SweepSchedule> log)
    : BackgroundService
{
    private static readonly TimeSpan Look = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan Quarter = TimeSpan.FromMinutes(15);
    private static readonly TimeSpan Hour = TimeSpan.FromHours(1);

    public override Task StartAsync(CancellationToken cancellationToken)
    {
        AddAll();
        // Of the version before, which queued a job for each attempt.
        recurring.RemoveIfExists("score-sweep");
        return base.StartAsync(cancellationToken);
    }

    /// <summary>Schedules anew what was put off.</summary>
    internal void BringForward()
    {
        using var connection = storage.GetConnection();
        var due = connection.GetRecurringJobs().ToDictionary(job => job.Id, job => job.NextExecution);
        var now = clock.GetUtcNow().UtcDateTime;
        var putOff = false;
        foreach (var (name, interval) in AddAll())
        {
            // Twice its interval: a clock that differs by seconds is nothing to act on.
            if (due.GetValueOrDefault(name) is not { } next || next - now <= 2 * interval)
                continue;
            log.LogWarning("{Sweep} was put off to {Next:u}: a worker's clock ran ahead. It is due now again", name, next);
            recurring.RemoveIfExists(name);
            putOff = true;
        }

        if (putOff)
            AddAll();
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Look, clock);
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            try
            {
                BringForward();
            }
            catch (Exception e) when (e is not OperationCanceledException)
            {
                // The database is away, most likely; the next minute is soon enough.
                log.LogWarning("The sweeps' times could not be looked at: {Message}", e.Message);
            }
        }
    }

    private IEnumerable<(string Name, TimeSpan Interval)> AddAll() =>
        [
            Add<PendingSweep>(PendingSweep.Name, sweep => sweep.RunAsync(CancellationToken.None), Cron.Hourly(), Hour),
            Add<DraftSweep>(DraftSweep.Name, sweep => sweep.RunAsync(CancellationToken.None), "20 * * * *", Hour),
            Add<RescoringSweep>(RescoringSweep.Name, sweep => sweep.RunAsync(CancellationToken.None), Cron.Minutely(), Look),
            Add<NoticeSweep>(NoticeSweep.Name, sweep => sweep.RunAsync(CancellationToken.None), "*/15 * * * *", Quarter),
            Add<MailDigest>(MailDigest.Name, digest => digest.RunAsync(CancellationToken.None), "5/15 * * * *", Quarter),
        ];

    private (string Name, TimeSpan Interval) Add<T>(string name, Expression<Func<T, Task>> call, string cron, TimeSpan interval)
    {
        recurring.AddOrUpdate(name, call, cron);
        return (name, interval);
    }
}
