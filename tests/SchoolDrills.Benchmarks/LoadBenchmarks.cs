using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace SchoolDrills.Benchmarks;

/// <summary>
/// A busy morning at a running demo school: students sign in, look what they have to fly, send a recording and wait for its score,
/// spread over some minutes; then all at once.
/// </summary>
internal sealed partial class LoadBenchmarks : IDisposable
{
    private const string Drill = "vertical-s-turning",
        Password = "attitude plus power";

    private static readonly string Recording = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Recordings", "f10.gpx"));

    private readonly Uri site;
    private readonly HttpClient http;
    private readonly ConcurrentDictionary<string, ConcurrentBag<double>> tookMs = new();
    private readonly ConcurrentDictionary<string, int> refused = new();
    private readonly string run = Guid.NewGuid().ToString("N")[..8];
    private int made;

    private LoadBenchmarks(Uri site)
    {
        this.site = site;
        http = new HttpClient(new SocketsHttpHandler { UseCookies = false }) { BaseAddress = site, Timeout = TimeSpan.FromMinutes(5) };
    }

    /// <param name="site">Where the demo school is served; a throw-away one, since people and attempts stay.</param>
    /// <param name="students">How many are invited.</param>
    /// <param name="minutes">Over which they come.</param>
    public static async Task RunAsync(Uri site, int students, int minutes)
    {
        using var load = new LoadBenchmarks(site);
        var assigned = await load.PrepareAsync(students);
        Console.WriteLine($"## {students} students within {minutes} minutes\n");
        var random = new Random(1);
        await load.MorningAsync([.. assigned.Select(a => (a, random.NextDouble() * minutes * 60))]);
        Console.WriteLine($"\n## {students} students at once\n");
        await load.MorningAsync([.. assigned.Select(a => (a, 0.0))]);
    }

    public void Dispose() => http.Dispose();

    private async Task<IReadOnlyList<(string Email, string Assignment)>> PrepareAsync(int students)
    {
        var chief = await SignInAsync("chief@tussockplains.example", "drills-demo");
        var people = Enumerable
            .Range(1, students)
            .Select(n => new
            {
                displayName = $"Load student {run} {n}",
                email = $"load-{run}-{n}@tussockplains.example",
                roles = new[] { "student" },
            });
        var links = await PostAsync("people/invitations", chief, new { people });
        var ids = new List<(string Id, string Email)>();
        foreach (var link in links.EnumerateArray())
        {
            var person = link.GetProperty("person");
            ids.Add((person.GetProperty("id").GetString()!, person.GetProperty("email").GetString()!));
            var token = link.GetProperty("path").GetString()!.Split("token=")[1];
            await PostAsync("links/accept", null, new { token, password = Password });
        }

        var assigned = new List<(string, string)>();
        foreach (var some in ids.Chunk(100))
        {
            var made = await PostAsync("assignments", chief, new { studentIds = some.Select(s => s.Id), drillSlug = Drill });
            assigned.AddRange(
                made.EnumerateArray()
                    .Select(a => (some.Single(s => s.Id == a.GetProperty("studentId").GetString()).Email, a.GetProperty("id").GetString()!))
            );
        }

        return assigned;
    }

    private async Task MorningAsync(IReadOnlyList<((string Email, string Assignment) Student, double AtS)> comings)
    {
        tookMs.Clear();
        refused.Clear();
        var start = Stopwatch.StartNew();
        await Task.WhenAll(comings.Select(c => ComeAsync(c.Student, TimeSpan.FromSeconds(c.AtS))));
        Console.WriteLine($"All scored after {start.Elapsed.TotalSeconds:0} s.\n");
        Console.WriteLine("| what | times | p50 ms | p95 ms | longest ms |");
        Console.WriteLine("| --- | --- | --- | --- | --- |");
        foreach (var (name, times) in tookMs.OrderBy(t => t.Key, StringComparer.Ordinal))
        {
            var sorted = times.Order().ToArray();
            Console.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"| {name} | {sorted.Length} | {sorted[sorted.Length / 2]:0} | {sorted[(int)(0.95 * (sorted.Length - 1))]:0} "
                        + $"| {sorted[^1]:0} |"
                )
            );
        }

        var told = refused.OrderBy(r => r.Key, StringComparer.Ordinal).Select(r => $"{r.Value} x {r.Key}");
        Console.WriteLine($"\nAsked to come again: {(refused.IsEmpty ? "none" : string.Join("; ", told))}.");
    }

    private async Task ComeAsync((string Email, string Assignment) student, TimeSpan at)
    {
        await Task.Delay(at);
        var token = await TimedAsync("sign in", () => SignInAsync(student.Email, Password));
        await TimedAsync("what to fly", () => GetAsync("assignments?state=open", token));
        var bytes = NextRecording();
        var arrived = Stopwatch.GetTimestamp();
        var accepted = await TimedAsync("send a recording", () => SendFileAsync(student.Assignment, token, bytes));
        var attempt = accepted.GetProperty("attemptId").GetString();
        while (true)
        {
            var seen = await TimedAsync("look whether it is scored", () => GetAsync($"attempts/{attempt}", token));
            var status = seen.GetProperty("status").GetString();
            if (status is "scored")
                break;
            if (status is not ("queued" or "scoring"))
                throw new InvalidOperationException($"{attempt} is {status}.");
            await Task.Delay(TimeSpan.FromSeconds(2));
        }

        Note("from sent to scored", arrived);
    }

    private byte[] NextRecording()
    {
        var earlier = TimeSpan.FromMinutes(Interlocked.Increment(ref made) * 7 + Math.Abs(run.GetHashCode(StringComparison.Ordinal) % 7));
        return Encoding.UTF8.GetBytes(
            Times()
                .Replace(
                    Recording,
                    time =>
                        (DateTime.Parse(time.Value, CultureInfo.InvariantCulture) - earlier).ToString(
                            "yyyy-MM-ddTHH:mm:ss",
                            CultureInfo.InvariantCulture
                        )
                )
        );
    }

    private Task<JsonElement> SendFileAsync(string assignment, string token, byte[] bytes) =>
        SendAsync(
            HttpMethod.Post,
            $"assignments/{assignment}/attempts",
            token,
            () =>
                new MultipartFormDataContent
                {
                    { new ByteArrayContent(bytes), "track", "load.gpx" },
                    { new StringContent("{}", Encoding.UTF8, "application/json"), "meta" },
                }
        );

    private async Task<string> SignInAsync(string email, string password) =>
        (await PostAsync("session", null, new { email, password })).GetProperty("accessToken").GetString()!;

    private Task<JsonElement> GetAsync(string path, string token) => SendAsync(HttpMethod.Get, path, token, () => null);

    private Task<JsonElement> PostAsync(string path, string? token, object body) =>
        SendAsync(HttpMethod.Post, path, token, () => JsonContent.Create(body));

    /// <summary>Sends again where the host asks for it, after the time it asks for.</summary>
    private async Task<JsonElement> SendAsync(HttpMethod method, string path, string? token, Func<HttpContent?> content)
    {
        while (true)
        {
            using var message = new HttpRequestMessage(method, new Uri(site, $"/api/v1/{path}")) { Content = content() };
            if (token is not null)
                message.Headers.Authorization = new AuthenticationHeaderValue("Bearer", token);
            using var response = await http.SendAsync(message);
            if (response.StatusCode is HttpStatusCode.TooManyRequests or HttpStatusCode.ServiceUnavailable)
            {
                refused.AddOrUpdate($"{(int)response.StatusCode} {path.Split('/')[0]}", 1, (_, n) => n + 1);
                await Task.Delay(response.Headers.RetryAfter?.Delta ?? TimeSpan.FromSeconds(5));
                continue;
            }

            var text = await response.Content.ReadAsStringAsync();
            if (!response.IsSuccessStatusCode)
                throw new HttpRequestException($"{method} {path}: {(int)response.StatusCode} {text}");
            return text.Length == 0 ? default : JsonSerializer.Deserialize<JsonElement>(text);
        }
    }

    private async Task<T> TimedAsync<T>(string name, Func<Task<T>> doAsync)
    {
        var start = Stopwatch.GetTimestamp();
        var answer = await doAsync();
        Note(name, start);
        return answer;
    }

    private void Note(string name, long start) => tookMs.GetOrAdd(name, _ => []).Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);

    [GeneratedRegex(@"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d")]
    private static partial Regex Times();
}
