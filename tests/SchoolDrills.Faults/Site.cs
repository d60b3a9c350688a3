using Npgsql;
using SchoolDrills.Api.Data.Postgres;

namespace SchoolDrills.Faults;

/// <summary>Everything that runs: the database, two hosts that serve, two that score, the proxy. Ends with the run.</summary>
internal sealed class Site : IAsyncDisposable
{
    private readonly List<DatabaseLine> lines = [];
    private readonly List<HostProcess> hosts = [];
    private readonly string folder = Path.Combine(Path.GetTempPath(), $"schooldrills-faults-{Environment.ProcessId}");
    private PrivatePostgres? database;
    private Proxy? proxy;

    public IReadOnlyList<HostProcess> Hosts => hosts;

    public Proxy Proxy => proxy!;

    /// <summary>The disk on which uploads wait while they come in; null where none may be mounted here.</summary>
    public SmallDisk? Disk { get; private set; }

    public IEnumerable<HostProcess> Of(string role) => hosts.Where(h => h.Role == role);

    /// <param name="olderHost">Folder of the version that one host of each role begins as.</param>
    public async Task StartAsync(string? olderHost, CancellationToken ct)
    {
        database = await PrivatePostgres.StartAsync(Path.Combine(folder, "data"), ct: ct);
        // Starts it again after it was killed, as beside a host that has its own.
        _ = database.WatchAsync();
        Disk = await SmallDisk.MountAsync(Path.Combine(folder, "disk"));
        await HostClock.BuildAsync(folder);
        // One after the other, so that the first one alone migrates and the rest find it done. An older version starts before the present
        // one has changed the database under it.
        foreach (var (name, role) in new[] { ("web 1", "web"), ("worker 1", "worker"), ("web 2", "web"), ("worker 2", "worker") })
        {
            var line = new DatabaseLine(database.OwnerConnectionString);
            lines.Add(line);
            var host = new HostProcess(name, role, line, folder, role == "web" ? Disk?.Folder : null, hosts.Count < 2 ? olderHost : null);
            hosts.Add(host);
            if (hosts.Count == 1 || olderHost is not null)
                await host.FirstReady.WaitAsync(TimeSpan.FromMinutes(2), ct);
        }

        await Task.WhenAll(hosts.Select(h => h.FirstReady)).WaitAsync(TimeSpan.FromMinutes(2), ct);
        proxy = await Proxy.StartAsync([.. Of("web")]);
    }

    /// <summary>Kills the database's first process, as a machine short of memory would.</summary>
    public Task KillDatabaseAsync()
    {
        var written = File.ReadLines(Path.Combine(folder, "data", "postgres", "cluster", "postmaster.pid")).First();
        return Signals.SendAsync(Signals.Kill, int.Parse(written, System.Globalization.CultureInfo.InvariantCulture));
    }

    /// <summary>A connection past everything, not pooled.</summary>
    public async Task<NpgsqlConnection> OpenDatabaseAsync(CancellationToken ct)
    {
        var owner = new NpgsqlConnectionStringBuilder(database!.OwnerConnectionString) { Pooling = false };
        var connection = new NpgsqlConnection(owner.ConnectionString);
        await connection.OpenAsync(ct);
        return connection;
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var line in lines)
            line.Mend();
        if (proxy is not null)
            await proxy.DisposeAsync();
        await Task.WhenAll(hosts.Select(h => h.DisposeAsync().AsTask()));
        foreach (var line in lines)
            line.Dispose();
        if (Disk is not null)
            await Disk.UnmountAsync();
        if (database is not null)
            await database.DisposeAsync();
        if (Environment.GetEnvironmentVariable("SCHOOLDRILLS_KEEP_LOGS") != "1" && Directory.Exists(folder))
            Directory.Delete(folder, recursive: true);
    }
}
