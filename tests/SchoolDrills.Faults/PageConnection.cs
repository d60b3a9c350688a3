using System.Net.WebSockets;
using System.Text;

namespace SchoolDrills.Faults;

/// <summary>Holds the connection that an open page has, through the proxy, and takes it up again whenever it breaks.</summary>
internal sealed class PageConnection : IAsyncDisposable
{
    /// <summary>The hub's own greeting, and its answer; each ends with the record separator.</summary>
    private const string Greeting = "{\"protocol\":\"blazorpack\",\"version\":1}\u001e",
        Greeted = "{}\u001e";

    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);

    /// <summary>A message of type 6, in MessagePack, behind its length: I am still here.</summary>
    private static readonly byte[] Ping = [2, 0x91, 6];

    private readonly CancellationTokenSource stopping = new();
    private readonly Task holding;

    private PageConnection(Uri site) => holding = HoldAsync(new UriBuilder(new Uri(site, "/_blazor")) { Scheme = "ws" }.Uri);

    /// <summary>How often it was made.</summary>
    public int Made { get; private set; }

    public bool IsOpen { get; private set; }

    public static PageConnection Open(Uri site) => new(site);

    public async ValueTask DisposeAsync()
    {
        await stopping.CancelAsync();
        await holding;
        stopping.Dispose();
    }

    private async Task HoldAsync(Uri hub)
    {
        while (!stopping.IsCancellationRequested)
        {
            try
            {
                using var socket = new ClientWebSocket();
                await socket.ConnectAsync(hub, stopping.Token);
                await socket.SendAsync(Encoding.UTF8.GetBytes(Greeting), WebSocketMessageType.Text, endOfMessage: true, stopping.Token);
                var heard = new byte[4096];
                var answer = await socket.ReceiveAsync(heard, stopping.Token);
                if (Encoding.UTF8.GetString(heard, 0, answer.Count) == Greeted)
                {
                    Made++;
                    IsOpen = true;
                    await ListenAsync(socket, heard);
                }
            }
            catch (Exception e) when (e is WebSocketException or OperationCanceledException or IOException)
            {
                // Broken off: taken up again below.
            }

            IsOpen = false;
            await Task.Delay(Pause, stopping.Token).ContinueWith(_ => { }, TaskScheduler.Default);
        }
    }

    private async Task ListenAsync(ClientWebSocket socket, byte[] heard)
    {
        var listening = socket.ReceiveAsync(heard, stopping.Token);
        while (true)
        {
            var ping = Task.Delay(TimeSpan.FromSeconds(5), stopping.Token);
            if (await Task.WhenAny(listening, ping) == ping)
                await socket.SendAsync(Ping, WebSocketMessageType.Binary, endOfMessage: true, stopping.Token);
            else if ((await listening).MessageType == WebSocketMessageType.Close)
                return;
            else
                listening = socket.ReceiveAsync(heard, stopping.Token);
        }
    }
}
