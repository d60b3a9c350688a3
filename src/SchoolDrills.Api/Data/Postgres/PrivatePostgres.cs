using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Npgsql;

namespace SchoolDrills.Api.Data.Postgres;

/// <summary>
/// A PostgreSQL server of our own in the data folder: made on first start, on loopback and a free port, stopped with
/// the host, and taken over where a host ended without stopping it.
/// </summary>
internal sealed class PrivatePostgres : IAsyncDisposable
{
    public const string OwnerRole = "schooldrills_owner";
    private const string Database = "schooldrills";
    private static readonly TimeSpan StartPatience = TimeSpan.FromSeconds(60);
    private const int MostRefusals = 4;
    private static readonly TimeSpan RetryPause = TimeSpan.FromMilliseconds(500);

    private readonly DataFolder folder;
    private readonly PostgresBinaries binaries;
    private readonly string password;
    private readonly CancellationTokenSource stopping = new();
    private Func<Task<string?>> startAgain = () => Task.FromResult<string?>(null);

    private PrivatePostgres(DataFolder folder, PostgresBinaries binaries, string password)
    {
        this.folder = folder;
        this.binaries = binaries;
        this.password = password;
    }

    /// <summary>Connection string of the owner role, which may do anything in this server.</summary>
    public string OwnerConnectionString { get; private set; } = "";

    /// <summary>Whether a server that an earlier host left running was taken over.</summary>
    public bool Adopted { get; private set; }

    /// <summary>Makes the cluster if there is none, and returns once the server answers.</summary>
    /// <param name="root">The data folder.</param>
    /// <param name="settings">Server settings beside the usual, each as <c>name=value</c>.</param>
    /// <param name="archive">Folder to archive the write-ahead log in; null for none.</param>
    /// <exception cref="StartupRefusedException">The folder is in use, or PostgreSQL is missing or does not start.</exception>
    public static async Task<PrivatePostgres> StartAsync(
        string root,
        IReadOnlyList<string>? settings = null,
        string? archive = null,
        CancellationToken ct = default
    )
    {
        var folder = await DataFolder.LockAsync(root);
        PrivatePostgres? server = null;
        try
        {
            server = new PrivatePostgres(folder, PostgresBinaries.Choose(folder.ClusterVersion), folder.ReadOrMakePassword());
            if (folder.ClusterVersion is null)
                await server.MakeClusterAsync();
            await server.StartOrAdoptAsync([.. settings ?? [], .. await LogArchive.PrepareAsync(folder, archive)], ct);
            return server;
        }
        catch
        {
            await (server?.DisposeAsync() ?? ValueTask.CompletedTask);
            folder.Dispose();
            throw;
        }
    }

    /// <summary>Connection string of the owner role where a server of this folder runs, whoever started it; null where none does.</summary>
    public static string? RunningIn(string root)
    {
        using var folder = DataFolder.Unlocked(root);
        return ReadPostmaster(folder) is { } running && IsOurPostmaster(folder, running.ProcessId)
            ? new NpgsqlConnectionStringBuilder(OwnerAt(running.Port, folder.ReadOrMakePassword())) { Database = Database }.ConnectionString
            : null;
    }

    /// <summary>Stops the server, letting running statements go, and frees the folder.</summary>
    public async ValueTask DisposeAsync()
    {
        await stopping.CancelAsync();
        NpgsqlConnection.ClearAllPools();
        await ServerCommand.RunAsync(binaries.PgCtl, "-D", folder.Cluster, "-m", "fast", "-w", "-t", "60", "stop");
        folder.Dispose();
        stopping.Dispose();
    }

    /// <summary>
    /// Starts the server again, on its port, whenever it has died. Ends when the server is stopped, or with one sentence where starting it
    /// again does not help.
    /// </summary>
    public async Task<string?> WatchAsync() =>
        await PostgresWatch.RunAsync(
            () => ReadPostmaster(folder) is { } running && IsOurPostmaster(folder, running.ProcessId),
            () => startAgain(),
            stopping.Token
        )
            is { } problem
            ? $"PostgreSQL in {folder.ServerFolder} died and could not be started again: {problem} (see {folder.ServerLog})"
            : null;

    /// <summary>initdb works under a temporary name, so that a half-made cluster is never taken for a good one.</summary>
    private async Task MakeClusterAsync()
    {
        var unfinished = folder.Cluster + ".unfinished";
        if (Directory.Exists(unfinished))
            Directory.Delete(unfinished, recursive: true);
        var passwordFile = Path.Combine(folder.ServerFolder, "initdb.password");
        DataFolder.WriteOwnerOnly(passwordFile, password);
        try
        {
            await ServerCommand.HandOverAsync(passwordFile);
            var (exitCode, output) = await ServerCommand.RunAsync(
                binaries.InitDb,
                "-D",
                unfinished,
                "-U",
                OwnerRole,
                "--auth=scram-sha-256",
                "--pwfile=" + passwordFile,
                "--encoding=UTF8",
                OperatingSystem.IsLinux() ? "--locale=C.UTF-8" : "--locale=C"
            );
            if (exitCode != 0)
                throw new StartupRefusedException($"PostgreSQL could not make a database in {folder.ServerFolder}: {LastLine(output)}");
        }
        finally
        {
            File.Delete(passwordFile);
        }

        Directory.Move(unfinished, folder.Cluster);
    }

    private async Task StartOrAdoptAsync(IReadOnlyList<string> settings, CancellationToken ct)
    {
        var giveUpAt = DateTime.UtcNow + StartPatience;
        var lastProblem = "it did not answer";
        for (var refusals = 0; refusals < MostRefusals && DateTime.UtcNow < giveUpAt; )
        {
            ct.ThrowIfCancellationRequested();
            if (ReadPostmaster(folder) is { } running && IsOurPostmaster(folder, running.ProcessId))
            {
                if (await TryConnectAsync(running.Port, settings, ct))
                {
                    Adopted = await ArchivesAsync(ct) == settings.Contains("archive_mode=on");
                    if (Adopted)
                        return;
                    // Only a start switches the archive on or off.
                    await ServerCommand.RunAsync(binaries.PgCtl, "-D", folder.Cluster, "-m", "fast", "-w", "-t", "60", "stop");
                }
            }
            else
            {
                var port = FreePort();
                var (exitCode, output) = await ServerCommand.RunAsync(binaries.PgCtl, StartArguments(port, settings));
                if (exitCode == 0 && await TryConnectAsync(port, settings, ct))
                    return;
                var log = File.Exists(folder.ServerLog) ? await File.ReadAllTextAsync(folder.ServerLog, ct) : output;
                lastProblem =
                    log.Split('\n').LastOrDefault(line => line.Contains("FATAL:", StringComparison.Ordinal))?.Trim() ?? LastLine(output);
                if (!lastProblem.Contains("lock file", StringComparison.Ordinal))
                    refusals++;
            }

            // A server that starts or ends, a lock file whose owner has just died, a port taken since it was found
            // free: each passes by itself. The lock file is PostgreSQL's to remove, never ours.
            await Task.Delay(RetryPause, ct);
        }

        throw new StartupRefusedException($"PostgreSQL did not start in {folder.ServerFolder}: {lastProblem} (see {folder.ServerLog})");
    }

    private string[] StartArguments(int port, IReadOnlyList<string> settings)
    {
        string[] all =
        [
            $"port={port}",
            "listen_addresses=127.0.0.1",
            "unix_socket_directories=",
            "password_encryption=scram-sha-256",
            .. settings,
        ];
        return
        [
            "-D",
            folder.Cluster,
            "-l",
            folder.ServerLog,
            "-w",
            "-t",
            "60",
            "-o",
            string.Join(' ', all.Select(setting => $"-c {setting}")),
            "start",
        ];
    }

    private async Task<bool> TryConnectAsync(int port, IReadOnlyList<string> settings, CancellationToken ct)
    {
        var builder = new NpgsqlConnectionStringBuilder(OwnerAt(port, password)) { Database = "postgres", Pooling = false };
        try
        {
            await using var connection = new NpgsqlConnection(builder.ConnectionString);
            await connection.OpenAsync(ct);
            await using var exists = new NpgsqlCommand("select 1 from pg_database where datname = $1", connection)
            {
                Parameters = { new() { Value = Database } },
            };
            if (await exists.ExecuteScalarAsync(ct) is null)
            {
                await using var create = new NpgsqlCommand($"create database {Database}", connection);
                await create.ExecuteNonQueryAsync(ct);
            }
        }
        catch (NpgsqlException)
        {
            return false;
        }

        builder.Database = Database;
        builder.Pooling = true;
        OwnerConnectionString = builder.ConnectionString;
        startAgain = async () =>
        {
            var (exitCode, output) = await ServerCommand.RunAsync(binaries.PgCtl, StartArguments(port, settings));
            return exitCode == 0 ? null : LastLine(output);
        };
        return true;
    }

    private async Task<bool> ArchivesAsync(CancellationToken ct)
    {
        await using var connection = new NpgsqlConnection(OwnerConnectionString + ";Pooling=false");
        await connection.OpenAsync(ct);
        await using var command = new NpgsqlCommand("show archive_mode", connection);
        return await command.ExecuteScalarAsync(ct) is "on";
    }

    private static string OwnerAt(int port, string password) =>
        new NpgsqlConnectionStringBuilder
        {
            Host = "127.0.0.1",
            Port = port,
            Username = OwnerRole,
            Password = password,
            Timeout = 5,
        }.ConnectionString;

    /// <summary>Process and port as the server itself wrote them down, or null where none runs or it is just starting.</summary>
    private static (int ProcessId, int Port)? ReadPostmaster(DataFolder folder)
    {
        try
        {
            var lines = File.ReadAllLines(Path.Combine(folder.Cluster, "postmaster.pid"));
            return
                lines.Length >= 4
                && int.TryParse(lines[0], CultureInfo.InvariantCulture, out var processId)
                && int.TryParse(lines[3], CultureInfo.InvariantCulture, out var port)
                ? (processId, port)
                : null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    /// <summary>A process number is used again after a reboot; only a server started on this very cluster counts.</summary>
    private static bool IsOurPostmaster(DataFolder folder, int processId)
    {
        try
        {
            if (OperatingSystem.IsLinux())
                return File.ReadAllText($"/proc/{processId}/cmdline").Split('\0').Contains(folder.Cluster);
            using var process = System.Diagnostics.Process.GetProcessById(processId);
            return process.ProcessName.StartsWith("postgres", StringComparison.Ordinal);
        }
        catch (Exception e) when (e is IOException or ArgumentException or InvalidOperationException)
        {
            return false;
        }
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    private static string LastLine(string text) => text.TrimEnd().Split('\n')[^1].Trim();
}
