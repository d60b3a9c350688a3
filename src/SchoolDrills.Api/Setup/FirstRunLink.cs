using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace SchoolDrills.Api.Setup;

/// <summary>
/// Where no school is yet, prints the link by which the first one is made. Each start makes a new one and closes those before.
/// </summary>
internal sealed class FirstRunLink(
    IServiceScopeFactory scopes,
    IServer server,
    IHostApplicationLifetime lifetime,
    TimeProvider clock,
    ILogger<FirstRunLink> log
) : BackgroundService
{
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        // The address is known once the server listens.
        var started = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        await using var onStart = lifetime.ApplicationStarted.Register(started.SetResult);
        await started.Task.WaitAsync(stoppingToken);
        try
        {
            await PrintAsync(stoppingToken);
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            log.LogError(e, "The link for the first chief instructor could not be made; start again");
        }
    }

    private async Task PrintAsync(CancellationToken ct)
    {
        await using var scope = scopes.CreateAsyncScope();
        var db = scope.ServiceProvider.GetRequiredService<AccountsDbContext>();
        if (await db.Database.SqlQuery<Guid>($"select id as \"Value\" from lookup.school_ids()").AnyAsync(ct))
            return;
        await db.FirstRunTokens.Where(t => t.UsedAtUtc == null).ExecuteDeleteAsync(ct);
        var path = FirstRunToken.AddTo(db, clock.GetUtcNow());
        await db.SaveChangesAsync(ct);
        var address = server.Features.Get<IServerAddressesFeature>()?.Addresses.FirstOrDefault() ?? "";
        Console.WriteLine($"No school yet. Its chief instructor starts here, once: {address}{path}");
    }
}
