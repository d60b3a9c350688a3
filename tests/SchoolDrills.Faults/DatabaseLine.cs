using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using Npgsql;

namespace SchoolDrills.Faults;

/// <summary>The way from one host to the database, which can be cut and slowed.</summary>
internal sealed class DatabaseLine : IDisposable
{
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly ConcurrentDictionary<TcpClient, byte> open = new();
    private readonly int databasePort;
    private volatile bool cut;
    private volatile int delayMs;

    public DatabaseLine(string ownerConnectionString)
    {
        var owner = new NpgsqlConnectionStringBuilder(ownerConnectionString);
        databasePort = owner.Port;
        listener.Start();
        owner.Port = ((IPEndPoint)listener.LocalEndpoint).Port;
        OwnerConnectionString = owner.ConnectionString;
        _ = AcceptAsync();
    }

    /// <summary>The owner's, through this line.</summary>
    public string OwnerConnectionString { get; }

    /// <summary>Breaks every connection off, and takes no new one until <see cref="Mend"/>.</summary>
    public void Cut()
    {
        cut = true;
        foreach (var client in open.Keys)
            client.Close();
    }

    /// <summary>Each piece of what is said, either way, waits so long.</summary>
    public void Slow(TimeSpan delay) => delayMs = (int)delay.TotalMilliseconds;

    public void Mend()
    {
        cut = false;
        delayMs = 0;
    }

    public void Dispose()
    {
        listener.Dispose();
        Cut();
    }

    private async Task AcceptAsync()
    {
        try
        {
            while (true)
                _ = ServeAsync(await listener.AcceptTcpClientAsync());
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            // The line is given up.
        }
    }

    private async Task ServeAsync(TcpClient host)
    {
        using var database = new TcpClient();
        using (host)
        {
            open[host] = 0;
            open[database] = 0;
            try
            {
                if (cut)
                    return;
                host.NoDelay = database.NoDelay = true;
                await database.ConnectAsync(IPAddress.Loopback, databasePort);
                var there = PumpAsync(host.GetStream(), database.GetStream());
                var back = PumpAsync(database.GetStream(), host.GetStream());
                await Task.WhenAny(there, back);
            }
            catch (Exception e) when (e is SocketException or IOException or ObjectDisposedException or InvalidOperationException)
            {
                // Either end went away: the other learns of it as the sockets close.
            }
            finally
            {
                open.TryRemove(host, out _);
                open.TryRemove(database, out _);
            }
        }
    }

    private async Task PumpAsync(NetworkStream from, NetworkStream to)
    {
        var piece = new byte[32 << 10];
        try
        {
            int read;
            while ((read = await from.ReadAsync(piece)) > 0)
            {
                if (delayMs is > 0 and var delay)
                    await Task.Delay(delay);
                await to.WriteAsync(piece.AsMemory(0, read));
            }
        }
        catch (Exception e) when (e is IOException or ObjectDisposedException)
        {
            // As above.
        }
    }
}
