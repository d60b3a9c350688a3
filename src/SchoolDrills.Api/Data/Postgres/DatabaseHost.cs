using System.Runtime.InteropServices;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;

namespace SchoolDrills.Api.Data.Postgres;

/// <summary>
/// The database as the host finds it: a server named in <c>ConnectionStrings:SchoolDrills</c>, else a private one under
/// <c>SCHOOLDRILLS_DATA</c>, which ends with the host. Ready to serve once started.
/// </summary>
public sealed class DatabaseHost : IAsyncDisposable
{
    private readonly PrivatePostgres? server;

    private DatabaseHost(PrivatePostgres? server, DatabaseAccess access)
    {
        this.server = server;
        Access = access;
    }

    internal DatabaseAccess Access { get; }

    /// <exception cref="StartupRefusedException">Something an operator has to put right.</exception>
    public static async Task<DatabaseHost> StartAsync(IConfiguration configuration)
    {
        // The host listens to signals only once it runs; one that comes earlier must not leave a server behind.
        using var stop = new CancellationTokenSource();
        using var terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop);
        using var interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop);
        try
        {
            return await StartAsync(configuration, stop.Token);
        }
        catch (OperationCanceledException e) when (stop.IsCancellationRequested)
        {
            throw new StartupRefusedException("Stopped while starting.", e);
        }

        void Stop(PosixSignalContext signal)
        {
            signal.Cancel = true;
            stop.Cancel();
        }
    }

    /// <summary>
    /// For a command: the private server as it runs under another host, which has prepared it, else as
    /// <see cref="StartAsync(IConfiguration)"/>.
    /// </summary>
    /// <exception cref="StartupRefusedException">Something an operator has to put right.</exception>
    public static async Task<DatabaseHost> JoinAsync(IConfiguration configuration) =>
        string.IsNullOrWhiteSpace(configuration.GetConnectionString("SchoolDrills"))
        && PrivatePostgres.RunningIn(RootFrom(configuration)) is { } running
            ? new DatabaseHost(null, DatabaseAccess.From(running))
            : await StartAsync(configuration);

    /// <summary>
    /// Keeps the private server alive. Ends with one sentence where that cannot be done, and never where the server is an operator's own.
    /// </summary>
    public Task<string?> WatchAsync() => server?.WatchAsync() ?? new TaskCompletionSource<string?>().Task;

    public ValueTask DisposeAsync() => server?.DisposeAsync() ?? ValueTask.CompletedTask;

    private static async Task<DatabaseHost> StartAsync(IConfiguration configuration, CancellationToken ct)
    {
        PrivatePostgres? server = null;
        try
        {
            var connectionString = configuration.GetConnectionString("SchoolDrills");
            if (string.IsNullOrWhiteSpace(connectionString))
            {
                server = await PrivatePostgres.StartAsync(
                    RootFrom(configuration),
                    archive: configuration["SCHOOLDRILLS_WAL_ARCHIVE"],
                    ct: ct
                );
                connectionString = server.OwnerConnectionString;
            }

            var access = DatabaseAccess.From(connectionString);
            await DatabaseSetup.PrepareAsync(access, repair: configuration["SCHOOLDRILLS_REPAIR"] == "1", ct);
            return new DatabaseHost(server, access);
        }
        catch when (server is not null)
        {
            await server.DisposeAsync();
            throw;
        }
    }

    private static string RootFrom(IConfiguration configuration) =>
        configuration["SCHOOLDRILLS_DATA"] is { } root && !string.IsNullOrWhiteSpace(root) ? root : DataFolder.DefaultRoot;
}

internal static class DatabaseRegistration
{
    /// <summary>Both contexts; each connects as the role that it, and the scope's viewer, needs.</summary>
    public static IServiceCollection AddSchoolDrillsDatabase(this IServiceCollection services, DatabaseAccess access) =>
        services
            .AddSingleton(access)
            .AddScoped<SchoolScope>()
            .AddDbContext<SchoolDrillsDbContext>((provider, options) => Configure(provider, options, access.App))
            .AddDbContext<AccountsDbContext>((provider, options) => Configure(provider, options, access.Accounts));

    private static void Configure(IServiceProvider provider, DbContextOptionsBuilder options, string role) =>
        options
            .UseNpgsql(role)
            .AddInterceptors([
                new SchoolScopeInterceptor(provider.GetRequiredService<SchoolScope>(), provider.GetRequiredService<DatabaseAccess>()),
                .. provider.GetServices<ISaveChangesInterceptor>(),
            ]);
}
