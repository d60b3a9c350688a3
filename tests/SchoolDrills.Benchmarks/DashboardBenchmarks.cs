using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using Npgsql;

namespace SchoolDrills.Benchmarks;

/// <summary>
/// What dashboards cost at a school with little history and with much: the same requests to a running demo school, whose database is
/// filled with an invented history in between. The student whose pages are asked for has the same hundred
/// attempts throughout. Rows and pages are PostgreSQL's own counts, with what background jobs read meanwhile.
/// </summary>
internal static class DashboardBenchmarks
{
    private const int Rounds = 15,
        WarmUpRounds = 30;

    /// <param name="address">Where the demo school is served, such as http://127.0.0.1:5080; all its recordings scored.</param>
    /// <param name="owner">Connection string of the owner of its database, a throw-away one.</param>
    /// <param name="many">Attempts of the long history.</param>
    public static async Task RunAsync(Uri address, string owner, int many)
    {
        await using var connection = new NpgsqlConnection(owner);
        await connection.OpenAsync();
        var history = new InventedHistory(connection);
        await history.GrowToAsync(InventedHistory.Few);
        using var http = new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromMinutes(5) };
        var chief = await TokenAsync(http, "chief");
        var own = await TokenAsync(http, "student");
        await using var find = new NpgsqlCommand(
            $"select id from people where display_name = '{InventedHistory.MeasuredStudent}'",
            connection
        );
        var student = (Guid)(await find.ExecuteScalarAsync())!;
        Request[] requests =
        [
            new("student's progress", chief, $"students/{student}/progress"),
            new("weak segments", chief, $"students/{student}/weak-segments"),
            new("next drill", chief, $"students/{student}/next-drill"),
            new("students list", chief, "students"),
            new("overview", chief, "school/overview"),
            new("readiness", chief, "school/readiness"),
            new("grading agreement", chief, "school/grading-agreement"),
            new("assignments to fly, as student", own, "assignments?state=open"),
            new("attempts, as student", own, "attempts"),
        ];
        var few = await AllAsync(http, connection, requests);
        await history.GrowToAsync(many);
        var much = await AllAsync(http, connection, requests);
        Console.WriteLine(
            $"""
            Milliseconds, kB shown, rows and pages read.

            | request | {InventedHistory.Few:#,0} attempts | {many:#,0} | ratio of ms |
            | --- | --- | --- | --- |
            """
        );
        foreach (var (request, n) in requests.Select((r, n) => (r, n)))
        {
            Console.WriteLine(
                string.Create(CultureInfo.InvariantCulture, $"| {request.Name} | {few[n]} | {much[n]} | {much[n].Ms / few[n].Ms:0.00} |")
            );
        }

        await new ServerPlans(connection).PrintAsync(requests.Select(r => (r.Name, (Func<Task>)(() => OnceAsync(http, r)))));
    }

    /// <summary>Each request some times: median time, and rows and pages of one as PostgreSQL counts them.</summary>
    private static async Task<IReadOnlyList<Cost>> AllAsync(HttpClient http, NpgsqlConnection owner, Request[] requests)
    {
        var costs = new List<Cost>();
        // Compiled and cached as after a morning's work, whether first or last.
        foreach (var request in requests)
        {
            for (var round = 0; round < WarmUpRounds; round++)
                await OnceAsync(http, request);
        }

        var before = await ReadAsync(owner);
        foreach (var request in requests)
        {
            var took = new List<double>();
            var bytes = 0L;
            for (var round = 0; round < Rounds; round++)
            {
                var start = Stopwatch.GetTimestamp();
                bytes = await OnceAsync(http, request);
                took.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
            }

            var after = await ReadAsync(owner);
            costs.Add(new(Paired.Median(took), bytes / 1000.0, (after.Rows - before.Rows) / Rounds, (after.Pages - before.Pages) / Rounds));
            before = after;
        }

        return costs;
    }

    private static async Task<string> TokenAsync(HttpClient http, string who)
    {
        var answer = await http.PostAsJsonAsync(
            "/api/v1/session",
            new { email = $"{who}@tussockplains.example", password = "drills-demo" }
        );
        answer.EnsureSuccessStatusCode();
        return (await answer.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("accessToken").GetString()!;
    }

    private static async Task<long> OnceAsync(HttpClient http, Request request)
    {
        using var message = new HttpRequestMessage(HttpMethod.Get, $"/api/v1/{request.Path}");
        message.Headers.Authorization = new AuthenticationHeaderValue("Bearer", request.Token);
        using var response = await http.SendAsync(message);
        response.EnsureSuccessStatusCode();
        return (await response.Content.ReadAsByteArrayAsync()).LongLength;
    }

    /// <summary>Rows and pages read so far, once every connection has told: an idle one does after ten seconds.</summary>
    private static async Task<(long Rows, long Pages)> ReadAsync(NpgsqlConnection owner)
    {
        await Task.Delay(TimeSpan.FromSeconds(11));
        await using var command = new NpgsqlCommand(
            """
            select (select coalesce(sum(seq_tup_read + coalesce(idx_tup_fetch, 0)), 0)::bigint from pg_stat_user_tables),
              (select blks_hit + blks_read from pg_stat_database where datname = current_database())
            """,
            owner
        );
        await using var reader = await command.ExecuteReaderAsync();
        await reader.ReadAsync();
        return (reader.GetInt64(0), reader.GetInt64(1));
    }

    private sealed record Request(string Name, string Token, string Path);

    private sealed record Cost(double Ms, double Kb, long Rows, long Pages)
    {
        public override string ToString() =>
            string.Create(CultureInfo.InvariantCulture, $"{Ms:0.0} ms, {Kb:0} kB, {Rows:#,0}, {Pages:#,0}");
    }
}
