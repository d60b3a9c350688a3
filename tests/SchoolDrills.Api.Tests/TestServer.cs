using System.Diagnostics;
using System.Globalization;
using System.IO.Compression;
using DotNet.Testcontainers.Builders;
using Npgsql;
using SchoolDrills.Api.Data.Postgres;
using Testcontainers.PostgreSql;

namespace SchoolDrills.Api.Tests;

/// <summary>
/// The PostgreSQL server of this test process: the one named in <c>SCHOOLDRILLS_TEST_DB</c>, else the machine's own
/// binaries in a throw-away folder, else a pinned container. It holds one migrated template that every test database
/// is copied from.
/// </summary>
internal sealed class TestServer
{
    private const string FolderPrefix = "schooldrills-test-";
    private const string ContainerImage = "postgres:17.6";

    // Nothing here outlives the process, so nothing needs to reach the disk.
    private static readonly string[] ThrowAwaySettings =
    [
        "fsync=off",
        "synchronous_commit=off",
        "full_page_writes=off",
        "max_connections=300",
    ];

    private static readonly Lazy<Task<TestServer>> Shared = new(StartAsync);

    private static readonly SemaphoreSlim CopyTurn = new(1);

    private readonly string owner;
    private readonly string prefix = "test_" + Guid.NewGuid().ToString("N")[..12];
    private int copies;

    private TestServer(string ownerConnectionString) => owner = ownerConnectionString;

    private string Template => ConnectionStringOf(prefix + "_template");

    public static Task<TestServer> GetAsync() => Shared.Value;

    /// <summary>Copies the template; a template that somebody is connected to cannot be copied, hence one at a time.</summary>
    public async Task<string> CopyTemplateAsync()
    {
        await CopyTurn.WaitAsync();
        try
        {
            var copy = ConnectionStringOf($"{prefix}_{++copies}");
            await ExecuteAsync($"create database {DatabaseOf(copy)} template {DatabaseOf(Template)}");
            return copy;
        }
        finally
        {
            CopyTurn.Release();
        }
    }

    /// <summary>A database as a plain-text dump, gzipped, has it.</summary>
    public async Task<string> RestoreAsync(string dump)
    {
        string restored;
        await CopyTurn.WaitAsync();
        try
        {
            restored = ConnectionStringOf($"{prefix}_{++copies}");
        }
        finally
        {
            CopyTurn.Release();
        }

        var me = $"\"{new NpgsqlConnectionStringBuilder(owner).Username}\"";
        var sql = (await DumpAsync(dump)).Replace($"OWNER TO {PrivatePostgres.OwnerRole};", $"OWNER TO {me};");
        await ExecuteAsync($"create database {DatabaseOf(restored)}");
        await ExecuteAsync(sql, restored);
        return restored;
    }

    /// <summary>The statements of a plain-text dump, gzipped.</summary>
    public static async Task<string> DumpAsync(string dump)
    {
        await using var file = File.OpenRead(Path.Combine(AppContext.BaseDirectory, "Upgrades", dump));
        await using var plain = new GZipStream(file, CompressionMode.Decompress);
        using var reader = new StreamReader(plain);
        return await reader.ReadToEndAsync();
    }

    public Task DropAsync(string connectionString) => ExecuteAsync($"drop database if exists {DatabaseOf(connectionString)} with (force)");

    private static async Task<TestServer> StartAsync()
    {
        if (Environment.GetEnvironmentVariable("SCHOOLDRILLS_TEST_DB") is { Length: > 0 } given)
        {
            var kept = new TestServer(given);
            await kept.MakeTemplateAsync();
            AppDomain.CurrentDomain.ProcessExit += (_, _) => kept.DropAsync(kept.Template).GetAwaiter().GetResult();
            return kept;
        }

        var server = new TestServer(PostgresBinaries.FindAll().Count > 0 ? await StartThrowAwayAsync() : await StartContainerAsync());
        await server.MakeTemplateAsync();
        return server;
    }

    private async Task MakeTemplateAsync()
    {
        await ExecuteAsync($"create database {DatabaseOf(Template)}");
        await DatabaseSetup.PrepareAsync(DatabaseAccess.From(Template));
        NpgsqlConnection.ClearAllPools();
    }

    private static async Task<string> StartContainerAsync()
    {
        try
        {
            var container = new PostgreSqlBuilder(ContainerImage).WithUsername(PrivatePostgres.OwnerRole).Build();
            await container.StartAsync();
            return container.GetConnectionString();
        }
        catch (DockerUnavailableException e)
        {
            throw new InvalidOperationException(
                "No PostgreSQL for the tests: install its server package, start a container engine, or set "
                    + "SCHOOLDRILLS_TEST_DB to a connection string whose role may create databases and roles.",
                e
            );
        }
    }

    private static async Task<string> StartThrowAwayAsync()
    {
        await RemoveLeftoversAsync();
        var folder = Path.Combine(Path.GetTempPath(), $"{FolderPrefix}{Environment.ProcessId}");
        var server = await PrivatePostgres.StartAsync(folder, ThrowAwaySettings);
        AppDomain.CurrentDomain.ProcessExit += (_, _) =>
        {
            server.DisposeAsync().AsTask().GetAwaiter().GetResult();
            Directory.Delete(folder, recursive: true);
        };
        return server.OwnerConnectionString;
    }

    /// <summary>A test run that was killed leaves its server running; the next one ends it.</summary>
    private static async Task RemoveLeftoversAsync()
    {
        foreach (var folder in Directory.EnumerateDirectories(Path.GetTempPath(), FolderPrefix + "*"))
        {
            if (
                !int.TryParse(Path.GetFileName(folder)[FolderPrefix.Length..], CultureInfo.InvariantCulture, out var processId)
                || IsAlive(processId)
            )
            {
                continue;
            }

            try
            {
                await using (await PrivatePostgres.StartAsync(folder)) { }

                Directory.Delete(folder, recursive: true);
            }
            catch (Exception e) when (e is StartupRefusedException or IOException)
            {
                Console.Error.WriteLine($"{folder} is left of an earlier test run and could not be removed: {e.Message}");
            }
        }
    }

    private string ConnectionStringOf(string database) =>
        new NpgsqlConnectionStringBuilder(owner) { Database = database, MaxPoolSize = 10 }.ConnectionString;

    private static string DatabaseOf(string connectionString) => new NpgsqlConnectionStringBuilder(connectionString).Database!;

    private Task ExecuteAsync(string sql) => ExecuteAsync(sql, owner);

    private static async Task ExecuteAsync(string sql, string where)
    {
        await using var connection = new NpgsqlConnection(new NpgsqlConnectionStringBuilder(where) { Pooling = false }.ConnectionString);
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync();
    }

    private static bool IsAlive(int processId)
    {
        try
        {
            using var process = Process.GetProcessById(processId);
            return true;
        }
        catch (ArgumentException)
        {
            return false;
        }
    }
}
