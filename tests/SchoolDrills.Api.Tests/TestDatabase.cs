using Npgsql;
using SchoolDrills.Api.Data.Postgres;
using Xunit;

namespace SchoolDrills.Api.Tests;

/// <summary>A migrated database of its own for one test class; dropped with it.</summary>
public sealed class TestDatabase : IAsyncLifetime
{
    private TestServer? server;

    /// <summary>Connection string of the role that owns the database, as <c>ConnectionStrings:SchoolDrills</c> takes it.</summary>
    public string OwnerConnectionString { get; private set; } = "";

    internal DatabaseAccess Access => DatabaseAccess.From(OwnerConnectionString);

    public ValueTask InitializeAsync() => InitializeAsync(null);

    /// <param name="dump">A database of an earlier version (Upgrades) instead of the template; nothing has upgraded it yet.</param>
    public async ValueTask InitializeAsync(string? dump)
    {
        server = await TestServer.GetAsync();
        OwnerConnectionString = dump is null ? await server.CopyTemplateAsync() : await server.RestoreAsync(dump);
    }

    /// <summary>A database of somebody else's, who drops it.</summary>
    internal void Use(string ownerConnectionString) => OwnerConnectionString = ownerConnectionString;

    public async ValueTask DisposeAsync()
    {
        foreach (var used in (string[])[Access.Owner, Access.App, Access.Jobs, Access.Accounts, Access.Hangfire])
        {
            await using var connection = new NpgsqlConnection(used);
            NpgsqlConnection.ClearPool(connection);
        }

        if (server is not null)
            await server.DropAsync(OwnerConnectionString);
    }
}
