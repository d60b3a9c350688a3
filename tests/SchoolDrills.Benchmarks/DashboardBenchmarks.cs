using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using Npgsql;

namespace SchoolDrills.Benchmarks;

/// <summary>
/// What dashboards cost at a school with little history and with much: the same requests to a running demo school, whose database is
/// filled with an invented history in between. The student whose pages are asked for has the same hundred attempts in both.
/// </summary>
internal static class DashboardBenchmarks
{
    private const int Few = 1_000,
        Rounds = 15;

    /// <param name="address">Where the demo school is served, such as http://127.0.0.1:5080; all its recordings scored.</param>
    /// <param name="owner">Connection string of the owner of its database, a throw-away one.</param>
    /// <param name="many">Attempts of the long history.</param>
    public static async Task RunAsync(Uri address, string owner, int many)
    {
        await using var connection = new NpgsqlConnection(owner);
        await connection.OpenAsync();
        var history = new InventedHistory(connection);
        await history.GrowToAsync(Few);
        using var http = new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromMinutes(5) };
        var signedIn = await http.PostAsJsonAsync(
            "/api/v1/session",
            new { email = "chief@tussockplains.example", password = "drills-demo" }
        );
        signedIn.EnsureSuccessStatusCode();
        var session = await signedIn.Content.ReadFromJsonAsync<JsonElement>();
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", session.GetProperty("accessToken").GetString());
        await using var find = new NpgsqlCommand(
            $"select id from people where display_name = '{InventedHistory.MeasuredStudent}'",
            connection
        );
        var student = (Guid)(await find.ExecuteScalarAsync())!;
        (string Name, string Path)[] requests =
        [
            ("student's progress", $"students/{student}/progress"),
            ("weak segments", $"students/{student}/weak-segments"),
            ("next drill", $"students/{student}/next-drill"),
            ("students list", "students"),
            ("overview", "school/overview"),
            ("readiness", "school/readiness"),
            ("grading agreement", "school/grading-agreement"),
        ];
        var few = await AllAsync(http, requests);
        await history.GrowToAsync(many);
        var much = await AllAsync(http, requests);
        Console.WriteLine($"| request | ms at {Few:#,0} attempts | ms at {many:#,0} | ratio |");
        Console.WriteLine("| --- | --- | --- | --- |");
        foreach (var ((name, _), before, after) in requests.Zip(few, much))
        {
            Console.WriteLine(
                string.Create(CultureInfo.InvariantCulture, $"| {name} | {before:0.0} | {after:0.0} | {after / before:0.00} |")
            );
        }
    }

    /// <summary>Median milliseconds of each request, by turns.</summary>
    private static async Task<IReadOnlyList<double>> AllAsync(HttpClient http, (string Name, string Path)[] requests)
    {
        var took = requests.Select(_ => new List<double>()).ToList();
        // The first round warms up.
        for (var round = 0; round <= Rounds; round++)
        {
            for (var n = 0; n < requests.Length; n++)
            {
                var start = Stopwatch.GetTimestamp();
                using var response = await http.GetAsync($"/api/v1/{requests[n].Path}");
                response.EnsureSuccessStatusCode();
                await response.Content.CopyToAsync(Stream.Null);
                if (round > 0)
                    took[n].Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
            }
        }

        return took.ConvertAll(t => Paired.Median(t));
    }
}
