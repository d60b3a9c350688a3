using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Xunit;

namespace SchoolDrills.Api.Tests;

/// <summary>
/// The whole app on a database of its own, in memory; after <c>UseKestrel(0)</c> and <c>StartServer()</c> on a port, for a
/// browser. No job server and no demo school unless a derived fixture asks for them.
/// </summary>
public class ApiFixture : WebApplicationFactory<Program>, IAsyncLifetime
{
    /// <summary>Whether queued work is done by this host.</summary>
    protected virtual bool RunsJobs => false;

    /// <summary>Whether the demo school is seeded.</summary>
    protected virtual bool SeedsDemo => false;

    /// <summary>A database of an earlier version to start over, instead of a fresh one.</summary>
    protected virtual string? Dump => null;

    public TestDatabase Database { get; } = new();

    /// <summary>Makes the database that the host starts on.</summary>
    protected virtual async Task MakeDatabaseAsync() => await Database.InitializeAsync(Dump);

    /// <summary>The database as it is before the host has seen it.</summary>
    protected virtual Task LookBeforeStartAsync() => Task.CompletedTask;

    public virtual async ValueTask InitializeAsync()
    {
        await MakeDatabaseAsync();
        await LookBeforeStartAsync();
        // Starts the host, so that a failure to start is told once and here.
        _ = Services;
    }

    public override async ValueTask DisposeAsync()
    {
        await base.DisposeAsync();
        await Database.DisposeAsync();
        GC.SuppressFinalize(this);
    }

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseSetting("ConnectionStrings:SchoolDrills", Database.OwnerConnectionString);
        builder.UseSetting("role", RunsJobs ? "all" : "web");
        builder.UseSetting("SCHOOLDRILLS_METRICS", "off");
        builder.UseSetting("SCHOOLDRILLS_DEMO", SeedsDemo ? "1" : "0");
        // The in-memory server has no limit on a body to set, and says so at each upload.
        builder.UseSetting("Logging:LogLevel:Microsoft.AspNetCore.Routing.EndpointRoutingMiddleware", "Error");
    }
}
