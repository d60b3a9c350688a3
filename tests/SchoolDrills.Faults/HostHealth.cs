using System.Collections.Concurrent;

namespace SchoolDrills.Faults;

/// <summary>Asks each host every second whether it is ready, and knows which to try first.</summary>
internal sealed class HostHealth : IAsyncDisposable
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(2);

    private readonly ConcurrentDictionary<HostProcess, bool> ready = new();
    private readonly CancellationTokenSource stopping = new();
    private readonly HttpClient http = new(new SocketsHttpHandler { UseProxy = false }) { Timeout = Patience };
    private readonly Task watching;
    private int turn;

    public HostHealth(IReadOnlyList<HostProcess> hosts)
    {
        foreach (var host in hosts)
            ready[host] = true;
        watching = Task.WhenAll(hosts.Select(WatchAsync));
    }

    /// <summary>The visitor's own host where that is ready, then what else is, then what may at least say why it is not.</summary>
    public IReadOnlyList<HostProcess> InOrder(string? own)
    {
        var mine = own is null ? null : Uri.UnescapeDataString(own);
        var start = Interlocked.Increment(ref turn);
        return
        [
            .. ready
                .OrderByDescending(h => h.Value)
                .ThenByDescending(h => h.Key.Name == mine)
                .ThenBy(h => (h.Key.Name.GetHashCode(StringComparison.Ordinal) ^ start) & 1)
                .Select(h => h.Key),
        ];
    }

    public async ValueTask DisposeAsync()
    {
        await stopping.CancelAsync();
        await watching;
        http.Dispose();
        stopping.Dispose();
    }

    private async Task WatchAsync(HostProcess host)
    {
        while (!stopping.IsCancellationRequested)
        {
            ready[host] = await IsReadyAsync(host);
            await Task.Delay(Pause, stopping.Token).ContinueWith(_ => { }, TaskScheduler.Default);
        }
    }

    private async Task<bool> IsReadyAsync(HostProcess host)
    {
        if (host.Address is not { } address)
            return false;
        try
        {
            using var answer = await http.GetAsync(new Uri(address, "/health/ready"), stopping.Token);
            return answer.IsSuccessStatusCode;
        }
        catch (Exception e) when (e is HttpRequestException or OperationCanceledException)
        {
            return false;
        }
    }
}
