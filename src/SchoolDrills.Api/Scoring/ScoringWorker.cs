using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace SchoolDrills.Api.Scoring;

/// <summary>
/// Scores what waits, as many at once as there are slots. What it has taken it keeps alive; a stopped host gives it back, a killed one's
/// is free once its lease is over.
/// </summary>
internal sealed class ScoringWorker(
    ScoringQueue queue,
    ScoringSlots slots,
    IServiceScopeFactory scopes,
    TimeProvider clock,
    ILogger<ScoringWorker> log
) : BackgroundService
{
    /// <summary>Between two looks while nothing waits.</summary>
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(1);

    private static readonly TimeSpan Renew = ScoringQueue.Lease / 3;

    /// <summary>After the first try and each further one.</summary>
    private static readonly TimeSpan[] Pauses =
    [
        TimeSpan.FromSeconds(5),
        TimeSpan.FromSeconds(15),
        TimeSpan.FromMinutes(1),
        TimeSpan.FromMinutes(5),
        TimeSpan.FromMinutes(15),
    ];

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var running = new List<Task>();
        try
        {
            while (true)
            {
                await slots.TakeAsync(stoppingToken);
                if (await NextAsync(stoppingToken) is { } claim)
                {
                    running.RemoveAll(r => r.IsCompleted);
                    running.Add(Task.Run(() => ScoreAndReleaseAsync(claim, stoppingToken), CancellationToken.None));
                }
                else
                {
                    slots.Release();
                    await Task.Delay(Look, clock, stoppingToken);
                }
            }
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            await Task.WhenAll(running);
        }
    }

    /// <summary>Null too while the database is away.</summary>
    private async Task<ScoringClaim?> NextAsync(CancellationToken ct)
    {
        try
        {
            return await queue.ClaimAsync(ct);
        }
        catch (Exception e) when (!ct.IsCancellationRequested)
        {
            log.LogWarning(e, "The next recording could not be taken; it is tried again");
            return null;
        }
    }

    private async Task ScoreAndReleaseAsync(ScoringClaim claim, CancellationToken stopping)
    {
        try
        {
            await ScoreAsync(claim, stopping);
        }
        catch (Exception e)
        {
            // What cannot be noted on the claim is known by its lease.
            log.LogWarning(e, "Attempt {AttemptId} stays claimed until its lease is over", claim.AttemptId);
        }
        finally
        {
            slots.Release();
        }
    }

    internal async Task ScoreAsync(ScoringClaim claim, CancellationToken stopping)
    {
        using var going = CancellationTokenSource.CreateLinkedTokenSource(stopping);
        var renewing = RenewAsync(claim, going);
        try
        {
            await using var scope = scopes.CreateAsyncScope();
            var job = ActivatorUtilities.CreateInstance<ScoreAttemptJob>(scope.ServiceProvider);
            if (claim.Tries > ScoreAttemptJob.Tries + 1)
                await job.GiveUpAsync(claim.AttemptId, claim.SchoolId, going.Token);
            else
                await job.RunAsync(claim.AttemptId, claim.SchoolId, claim.Tries > ScoreAttemptJob.Tries, going.Token);
            await queue.EndAsync(claim, CancellationToken.None);
        }
        catch (Exception) when (stopping.IsCancellationRequested)
        {
            await queue.GiveBackAsync(claim, CancellationToken.None);
        }
        catch (Exception e) when (!going.IsCancellationRequested)
        {
            var pause = Pauses[Math.Clamp(claim.Tries, 1, Pauses.Length) - 1];
            log.LogWarning(
                e,
                "Attempt {AttemptId} was not scored at try {Try}; the next is in {Pause}",
                claim.AttemptId,
                claim.Tries,
                pause
            );
            await queue.PutOffAsync(claim, pause, CancellationToken.None);
        }
        catch (Exception) when (going.IsCancellationRequested)
        {
            log.LogWarning("Attempt {AttemptId} was taken by another worker: this one was too slow to renew its claim", claim.AttemptId);
        }
        finally
        {
            await going.CancelAsync();
            await renewing;
        }
    }

    private async Task RenewAsync(ScoringClaim claim, CancellationTokenSource going)
    {
        try
        {
            while (true)
            {
                await Task.Delay(Renew, clock, going.Token);
                try
                {
                    if (await queue.KeepAsync(claim, going.Token))
                        continue;
                    await going.CancelAsync();
                    return;
                }
                catch (Exception e) when (!going.IsCancellationRequested)
                {
                    log.LogWarning(e, "The claim on attempt {AttemptId} could not be renewed; it is tried again", claim.AttemptId);
                }
            }
        }
        catch (OperationCanceledException)
        {
            // Scored, or stopped.
        }
    }
}
