using System.Collections.Concurrent;
using System.Net.WebSockets;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace SchoolDrills.Faults;

/// <summary>
/// A reverse proxy as a school would have one: keeps a visitor on one host by a cookie, looks after the hosts' health, and tries the next
/// where one cannot be reached. What a host has begun to read is never sent to another.
/// </summary>
internal sealed class Proxy : IAsyncDisposable
{
    private const string Cookie = "host";

    /// <summary>Of one connection, and of the machine between two: the proxy sets its own.</summary>
    private static readonly string[] NotPassedOn = ["Connection", "Keep-Alive", "Transfer-Encoding", "Upgrade", "Host"];

    private readonly HttpMessageInvoker forward = new(
        new SocketsHttpHandler
        {
            AllowAutoRedirect = false,
            UseCookies = false,
            UseProxy = false,
            ConnectTimeout = TimeSpan.FromSeconds(2),
            ActivityHeadersPropagator = null,
        }
    );

    private readonly HostHealth health;
    private readonly WebApplication app;

    private Proxy(IReadOnlyList<HostProcess> hosts)
    {
        health = new HostHealth(hosts);
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.Limits.MaxRequestBodySize = null);
        app = builder.Build();
        app.UseWebSockets();
        app.Run(PassOnAsync);
    }

    public Uri Address => new(app.Urls.Single());

    /// <summary>Uploads that were accepted, by host.</summary>
    public ConcurrentDictionary<string, int> AcceptedBy { get; } = new();

    /// <summary>Requests that went to another host than the first choice.</summary>
    public int PassedToNext { get; private set; }

    public static async Task<Proxy> StartAsync(IReadOnlyList<HostProcess> hosts)
    {
        var proxy = new Proxy(hosts);
        await proxy.app.StartAsync();
        return proxy;
    }

    public async ValueTask DisposeAsync()
    {
        await health.DisposeAsync();
        using (var atOnce = new CancellationTokenSource(TimeSpan.FromSeconds(2)))
            await app.StopAsync(atOnce.Token);
        await app.DisposeAsync();
        forward.Dispose();
    }

    private async Task PassOnAsync(HttpContext http)
    {
        var first = true;
        foreach (var host in health.InOrder(http.Request.Cookies[Cookie]))
        {
            if (host.Address is not { } address)
                continue;
            if (!first)
                PassedToNext++;
            first = false;
            http.Response.Headers.SetCookie = $"{Cookie}={Uri.EscapeDataString(host.Name)}; Path=/; HttpOnly; SameSite=Lax";
            var version = host.IsOlder ? ", of the older version" : "";
            if (!(http.WebSockets.IsWebSocketRequest ? await SocketAsync(http, address) : await RequestAsync(http, address)))
                continue;
            if (IsUpload(http.Request) && http.Response.StatusCode is >= 200 and < 300)
                AcceptedBy.AddOrUpdate(host.Name + version, 1, (_, n) => n + 1);
            return;
        }

        await RefuseAsync(http, StatusCodes.Status503ServiceUnavailable, "No host can be reached now: try again in a few seconds.");
    }

    private static bool IsUpload(HttpRequest request) =>
        HttpMethods.IsPost(request.Method) && request.Path.Value!.EndsWith("/attempts", StringComparison.Ordinal);

    /// <returns>False where the host could not be reached, so that another may be.</returns>
    private async Task<bool> RequestAsync(HttpContext http, Uri host)
    {
        using var request = new HttpRequestMessage(
            new HttpMethod(http.Request.Method),
            new Uri(host, http.Request.Path.ToUriComponent() + http.Request.QueryString.ToUriComponent())
        );
        if (http.Request.ContentLength is > 0 || http.Request.Headers.TransferEncoding.Count > 0)
            request.Content = new StreamContent(http.Request.Body);
        foreach (var (name, values) in http.Request.Headers)
        {
            if (NotPassedOn.Contains(name, StringComparer.OrdinalIgnoreCase))
                continue;
            if (!request.Headers.TryAddWithoutValidation(name, [.. values]))
                request.Content?.Headers.TryAddWithoutValidation(name, [.. values]);
        }

        request.Headers.TryAddWithoutValidation("X-Forwarded-For", http.Connection.RemoteIpAddress?.ToString());
        request.Headers.TryAddWithoutValidation("X-Forwarded-Proto", http.Request.Scheme);
        HttpResponseMessage answer;
        try
        {
            answer = await forward.SendAsync(request, http.RequestAborted);
        }
        catch (HttpRequestException e) when (e.HttpRequestError == HttpRequestError.ConnectionError)
        {
            return false;
        }
        catch (Exception e) when (e is HttpRequestException or IOException && !http.RequestAborted.IsCancellationRequested)
        {
            await RefuseAsync(
                http,
                StatusCodes.Status502BadGateway,
                "The host broke off: what was sent may or may not be kept, so look before you send it again."
            );
            return true;
        }
        catch (OperationCanceledException)
        {
            return true;
        }

        using (answer)
            await AnswerAsync(http, answer);
        return true;
    }

    private static async Task AnswerAsync(HttpContext http, HttpResponseMessage answer)
    {
        http.Response.StatusCode = (int)answer.StatusCode;
        foreach (var (name, values) in answer.Headers.Concat(answer.Content.Headers))
        {
            if (!NotPassedOn.Contains(name, StringComparer.OrdinalIgnoreCase))
                http.Response.Headers.Append(name, values.ToArray());
        }

        try
        {
            await answer.Content.CopyToAsync(http.Response.Body, http.RequestAborted);
        }
        catch (Exception e) when (e is HttpRequestException or IOException or OperationCanceledException)
        {
            http.Abort();
        }
    }

    private static async Task<bool> SocketAsync(HttpContext http, Uri host)
    {
        using var there = new ClientWebSocket();
        var address = new UriBuilder(new Uri(host, http.Request.Path.ToUriComponent() + http.Request.QueryString.ToUriComponent()))
        {
            Scheme = "ws",
        };
        try
        {
            await there.ConnectAsync(address.Uri, http.RequestAborted);
        }
        catch (Exception e) when (e is WebSocketException or OperationCanceledException)
        {
            return false;
        }

        using var here = await http.WebSockets.AcceptWebSocketAsync();
        await Task.WhenAny(PumpAsync(here, there, http.RequestAborted), PumpAsync(there, here, http.RequestAborted));
        here.Abort();
        return true;
    }

    private static async Task PumpAsync(WebSocket from, WebSocket to, CancellationToken ct)
    {
        var piece = new byte[16 << 10];
        try
        {
            while (await from.ReceiveAsync(piece.AsMemory(), ct) is { MessageType: not WebSocketMessageType.Close } said)
                await to.SendAsync(piece.AsMemory(0, said.Count), said.MessageType, said.EndOfMessage, ct);
        }
        catch (Exception e) when (e is WebSocketException or OperationCanceledException or IOException)
        {
            // One end is gone, and with it the connection.
        }
    }

    private static async Task RefuseAsync(HttpContext http, int status, string sentence)
    {
        http.Response.StatusCode = status;
        http.Response.Headers.RetryAfter = "1";
        await http.Response.WriteAsJsonAsync(
            new
            {
                title = "Not available now",
                status,
                detail = sentence,
            },
            options: null,
            contentType: "application/problem+json"
        );
    }
}
