using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using Npgsql;

namespace SchoolDrills.Benchmarks;

/// <summary>
/// What a request costs on a running demo school: each endpoint by turns with a bare one that reads the same bytes from the same
/// database by one query, at 1, 10 and 50 clients. The ratio says how much longer a request takes for who asks, what he may see, and
/// putting it into words.
/// </summary>
internal static class RequestBenchmarks
{
    private static readonly int[] Clients = [1, 10, 50];
    private static readonly TimeSpan WarmUp = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan Turn = TimeSpan.FromSeconds(2);
    private const int Turns = 3;

    /// <param name="address">Where the demo school is served, such as http://127.0.0.1:5080.</param>
    /// <param name="owner">Connection string of the owner of its database, a throw-away one.</param>
    public static async Task RunAsync(Uri address, string owner)
    {
        await using var source = new NpgsqlDataSourceBuilder(owner).Build();
        using var http = new HttpClient(new SocketsHttpHandler { MaxConnectionsPerServer = Clients[^1] }) { BaseAddress = address };
        var signedIn = await http.PostAsJsonAsync(
            "/api/v1/session",
            new { email = "chief@tussockplains.example", password = "drills-demo" }
        );
        signedIn.EnsureSuccessStatusCode();
        var session = await signedIn.Content.ReadFromJsonAsync<JsonElement>();
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", session.GetProperty("accessToken").GetString());
        var attempts = await http.GetFromJsonAsync<JsonElement>("/api/v1/attempts");
        var student = attempts.GetProperty("items")[0].GetProperty("studentId").GetString();

        Console.WriteLine("| endpoint | bytes | clients | requests/s | p95 ms | bare requests/s | bare p95 ms | ratio |");
        Console.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach (
            var (name, path) in new[]
            {
                ("me", "/api/v1/me"),
                ("one attempt", $"/api/v1/attempts/{attempts.GetProperty("items")[0].GetProperty("attemptId").GetString()}"),
                ("attempts", "/api/v1/attempts"),
                ("assignments", "/api/v1/assignments"),
                ("progress", $"/api/v1/students/{student}/progress"),
                ("record", $"/api/v1/students/{student}/record"),
            }
        )
        {
            var bytes = await http.GetByteArrayAsync(path);
            await using var bare = await BareAsync(source, bytes);
            var barePath = bare.Urls.Single();
            foreach (var clients in Clients)
            {
                await LoadAsync(http, path, clients, WarmUp);
                await LoadAsync(http, barePath, clients, WarmUp);
                var ours = new List<Load>();
                var theirs = new List<Load>();
                for (var turn = 0; turn < Turns; turn++)
                {
                    ours.Add(await LoadAsync(http, path, clients, Turn));
                    theirs.Add(await LoadAsync(http, barePath, clients, Turn));
                }

                Console.WriteLine(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"| {name} | {bytes.Length} | {clients} | {Median(ours, l => l.PerSecond):0} | {Median(ours, l => l.P95Ms):0.0} | "
                            + $"{Median(theirs, l => l.PerSecond):0} | {Median(theirs, l => l.P95Ms):0.0} | "
                            + $"{Paired.Median(ours.Zip(theirs, (o, t) => t.PerSecond / o.PerSecond)):0.00} |"
                    )
                );
            }
        }
    }

    private static double Median(IEnumerable<Load> turns, Func<Load, double> of) => Paired.Median(turns.Select(of));

    private static async Task<WebApplication> BareAsync(NpgsqlDataSource source, byte[] bytes)
    {
        await using (var keep = source.CreateCommand("drop table if exists benchmark_answer; create table benchmark_answer (body bytea)"))
            await keep.ExecuteNonQueryAsync();
        await using (var put = source.CreateCommand("insert into benchmark_answer values ($1)"))
        {
            put.Parameters.Add(new() { Value = bytes });
            await put.ExecuteNonQueryAsync();
        }

        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var app = builder.Build();
        app.MapGet(
            "/",
            async () =>
            {
                await using var read = source.CreateCommand("select body from benchmark_answer");
                return TypedResults.Bytes((byte[])(await read.ExecuteScalarAsync())!, "application/json");
            }
        );
        await app.StartAsync();
        return app;
    }

    private static async Task<Load> LoadAsync(HttpClient http, string path, int clients, TimeSpan length)
    {
        var start = Stopwatch.StartNew();
        var tookMs = await Task.WhenAll(Enumerable.Range(0, clients).Select(_ => Task.Run(ClientAsync)));
        var elapsed = start.Elapsed;
        var all = tookMs.SelectMany(t => t).Order().ToArray();
        return new Load(all.Length / elapsed.TotalSeconds, all[(int)(0.95 * (all.Length - 1))]);

        async Task<List<double>> ClientAsync()
        {
            var took = new List<double>();
            while (start.Elapsed < length)
            {
                var one = Stopwatch.GetTimestamp();
                using var response = await http.GetAsync(path);
                response.EnsureSuccessStatusCode();
                await response.Content.CopyToAsync(Stream.Null);
                took.Add(Stopwatch.GetElapsedTime(one).TotalMilliseconds);
            }

            return took;
        }
    }

    private readonly record struct Load(double PerSecond, double P95Ms);
}
