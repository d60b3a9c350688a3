using System.Collections.Concurrent;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.Logging;

namespace SchoolDrills.Api.Tests.Watching;

/// <summary>Takes what is sent over OTLP (http/protobuf), and looks for bytes in it.</summary>
internal sealed class Collector : IAsyncDisposable
{
    private readonly ConcurrentQueue<(string Signal, byte[] Body)> received = new();
    private readonly WebApplication server;

    private Collector(WebApplication server) => this.server = server;

    public string Address => server.Urls.First();

    public static async Task<Collector> StartAsync()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.Logging.ClearProviders();
        var collector = new Collector(builder.Build());
        collector.server.MapPost(
            "/v1/{signal}",
            async (string signal, Microsoft.AspNetCore.Http.HttpRequest request) =>
            {
                using var body = new MemoryStream();
                await request.Body.CopyToAsync(body);
                collector.received.Enqueue((signal, body.ToArray()));
            }
        );
        await collector.server.StartAsync();
        return collector;
    }

    public bool Has(string signal, ReadOnlySpan<byte> bytes)
    {
        foreach (var (sent, body) in received)
        {
            if (sent == signal && body.AsSpan().IndexOf(bytes) >= 0)
                return true;
        }

        return false;
    }

    /// <summary>Whether the bytes stand somewhere behind a tag and a length.</summary>
    public bool HasAfter(string signal, byte tag, byte[] bytes)
    {
        foreach (var (sent, body) in received.Where(r => r.Signal == signal))
        {
            for (var from = 0; body.AsSpan(from).IndexOf(bytes) is >= 0 and var at; from += at + 1)
            {
                // A length takes one byte to four.
                if (Enumerable.Range(2, 4).Any(before => from + at >= before && body[from + at - before] == tag))
                    return true;
            }
        }

        return false;
    }

    public bool Has(string signal, string text) => Has(signal, Encoding.UTF8.GetBytes(text));

    /// <summary>Whether a text stands anywhere in what was sent.</summary>
    public bool HasAnywhere(string text) => ((string[])["traces", "metrics", "logs"]).Any(signal => Has(signal, text));

    public ValueTask DisposeAsync() => server.DisposeAsync();
}
