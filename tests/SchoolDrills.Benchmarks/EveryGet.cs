using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using System.Text.Json.Nodes;
using Npgsql;

namespace SchoolDrills.Benchmarks;

/// <summary>A running demo school whose database was filled.</summary>
/// <param name="Address">Where it is served, such as http://127.0.0.1:5080.</param>
/// <param name="Owner">Connection string of its database's owner.</param>
internal sealed record FilledSite(Uri Address, string Owner);

/// <summary>One request.</summary>
/// <param name="IsWhole">Whether it is a download of everything there is, and so grows with it.</param>
/// <param name="AskAsync">Asks and answers with the bytes that came.</param>
internal sealed record Get(string Name, bool IsWhole, Func<Task<long>> AskAsync);

/// <summary>
/// One request or more for every GET of the API description, so that none is left out. Attempts that are looked at by themselves are
/// the demo school's, which have recordings; lists and a student's pages are of the invented history.
/// </summary>
internal sealed class EveryGet : IAsyncDisposable
{
    private const string Root = "/api/v1/";

    private static readonly string[] Whole = ["school/export", "school/audit/export", "school/attempts.csv", "school/attempts.json"];

    private readonly HttpClient http;
    private readonly Dictionary<string, (string Token, long At)> tokens = [];
    private readonly List<Get> all = [];

    private EveryGet(Uri address) => http = new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromMinutes(10) };

    public IReadOnlyList<Get> All => all;

    public static async Task<EveryGet> OpenAsync(FilledSite site)
    {
        var gets = new EveryGet(site.Address);
        await using var owner = new NpgsqlConnection(site.Owner);
        await owner.OpenAsync();
        await gets.AddAllAsync(owner);
        return gets;
    }

    public ValueTask DisposeAsync()
    {
        http.Dispose();
        return ValueTask.CompletedTask;
    }

    private async Task AddAllAsync(NpgsqlConnection owner)
    {
        var student = await IdAsync(owner, $"select id from people where display_name = '{InventedHistory.MeasuredStudent}' limit 1");
        var chief = await IdAsync(owner, "select id from people where normalized_email = 'CHIEF@TUSSOCKPLAINS.EXAMPLE'");
        var attempt = await IdAsync(
            owner,
            """
            select a.id from attempts a join track_files f on f.attempt_id = a.id
            where a.verdict is not null and a.assignment_id is not null and exists (
              select 1 from attempts b where b.student_id = a.student_id and b.drill_version_id = a.drill_version_id
              and b.verdict is not null and b.uploaded_at_utc < a.uploaded_at_utc and b.file_bytes > 0)
            order by a.file_name, a.id limit 1
            """
        );
        var report = await IdAsync(owner, $"select latest_report_id from attempts where id = '{attempt}'");
        var assignment = await IdAsync(owner, $"select assignment_id from attempts where id = '{attempt}'");
        var pending = await SendRecordingAsync();
        var revision = await SaveDraftTwiceAsync("racetrack");
        await SendAsync(HttpMethod.Put, $"attempts/{attempt}/example", JsonContent.Create(new { studentAgreed = true }), orElse: true);
        var slug = await ScalarAsync<string>(
            owner,
            $"select slug from drill_versions v join attempts a on a.drill_version_id = v.id where a.id = '{attempt}'"
        );

        (string Operation, string Path, string As)[] requests =
        [
            ("attempts", "attempts", "chief"),
            ("attempts", "attempts", "student"),
            ("attempts", "attempts?page=20", "chief"),
            ("attempts", $"attempts?studentId={student}", "instructor"),
            ("attempts", "attempts?drillSlug=racetrack", "chief"),
            ("attempts", "attempts?status=unscorable", "chief"),
            ("uploads", "uploads", "chief"),
            ("uploads/{id}/check", $"uploads/{pending}/check?assignmentId={assignment}", "chief"),
            ("attempts/{id}/columns", $"attempts/{attempt}/columns", "chief"),
            ("me", "me", "chief"),
            ("me/schools", "me/schools", "chief"),
            ("session/confirm", "session/confirm", "chief"),
            ("people", "people", "chief"),
            ("people", "people?role=student&page=2&pageSize=50", "chief"),
            ("students/{id}/record", $"students/{student}/record", "chief"),
            ("people/{id}/data", $"people/{student}/data", "chief"),
            ("school/export", "school/export", "chief"),
            ("school/records", "school/records", "chief"),
            ("drill-template.schema.json", "drill-template.schema.json", "chief"),
            ("standards", "standards", "chief"),
            ("standards/editions", "standards/editions", "chief"),
            ("aircraft", "aircraft", "chief"),
            ("aircraft/versions", "aircraft/versions", "chief"),
            ("attempts/{id}/flight-logs", $"attempts/{attempt}/flight-logs", "chief"),
            ("attempts/{id}/grade", $"attempts/{attempt}/grade", "chief"),
            ("drills/{slug}/example", $"drills/{slug}/example", "student"),
            ("school/settings", "school/settings", "chief"),
            ("students", "students", "chief"),
            ("students", "students?sort=last-flown&page=3", "instructor"),
            ("students/{id}/notes", $"students/{student}/notes", "chief"),
            ("desk", "desk", "chief"),
            ("desk", "desk?mine=true&rows=50", "instructor"),
            ("search", "search?q=invented", "chief"),
            ("search", "search?q=race", "student"),
            ("school/start", "school/start", "chief"),
            ("school/status", "school/status", "chief"),
            ("school/sample-recording", "school/sample-recording", "chief"),
            ("me/account", "me/account", "chief"),
            ("people/{id}/sessions", $"people/{chief}/sessions", "chief"),
            ("people/{id}/tokens", $"people/{chief}/tokens", "chief"),
            ("me/notices", "me/notices", "student"),
            ("me/notices/count", "me/notices/count", "student"),
            ("school/audit", "school/audit", "chief"),
            ("school/audit", "school/audit?page=20", "chief"),
            ("school/audit", "school/audit?what=grade-signed", "chief"),
            ("school/audit/export", "school/audit/export?format=csv", "chief"),
            ("drills", "drills", "student"),
            ("drills/{slug}", $"drills/{slug}", "student"),
            ("drills/{slug}/timeline", $"drills/{slug}/timeline", "student"),
            ("drills/{slug}/picture", $"drills/{slug}/picture", "student"),
            ("drills/{slug}/draft", "drills/racetrack/draft", "chief"),
            ("drills/{slug}/draft/revisions", "drills/racetrack/draft/revisions", "chief"),
            ("drills/{slug}/draft/revisions/{number}", $"drills/racetrack/draft/revisions/{revision}", "chief"),
            ("school/areas", "school/areas", "student"),
            ("assignments", "assignments", "chief"),
            ("assignments", "assignments?state=open", "student"),
            ("assignments", "assignments?state=flown&page=3", "instructor"),
            ("assignments/{id}", $"assignments/{assignment}", "chief"),
            ("assignments/before", $"assignments/before?studentIds={student}&drillSlugs=racetrack", "instructor"),
            ("attempts/{id}", $"attempts/{attempt}", "instructor"),
            ("attempts/{id}/reports/{reportId}", $"attempts/{attempt}/reports/{report}", "instructor"),
            ("attempts/{id}/track", $"attempts/{attempt}/track", "instructor"),
            ("attempts/{id}/track/original", $"attempts/{attempt}/track/original", "instructor"),
            ("assignments/{id}/flight-logs", $"assignments/{assignment}/flight-logs", "instructor"),
            ("attempts/{id}/boundaries", $"attempts/{attempt}/boundaries", "instructor"),
            ("attempts/{id}/comparison", $"attempts/{attempt}/comparison", "instructor"),
            ("attempts/{id}/comparison/track", $"attempts/{attempt}/comparison/track?with=last", "instructor"),
            ("attempts/{id}/example", $"attempts/{attempt}/example", "instructor"),
            ("students/{id}/progress", $"students/{student}/progress", "instructor"),
            ("students/{id}/weak-segments", $"students/{student}/weak-segments", "instructor"),
            ("students/{id}/load", $"students/{student}/load", "instructor"),
            ("students/{id}/next-drill", $"students/{student}/next-drill", "instructor"),
            ("school/overview", "school/overview", "chief"),
            ("school/overview", "school/overview?days=365", "chief"),
            ("school/grading-agreement", "school/grading-agreement", "chief"),
            ("school/stages", "school/stages", "chief"),
            ("school/readiness", "school/readiness", "chief"),
            ("school/overview.csv", "school/overview.csv", "chief"),
            ("school/attempts.csv", "school/attempts.csv", "chief"),
            ("school/attempts.json", "school/attempts.json", "chief"),
            ("school/rescoring", "school/rescoring", "chief"),
            ("school/rescoring/changes", "school/rescoring/changes", "chief"),
        ];
        var described = (await ReadAsync("openapi.json", "chief"))
            .GetProperty("paths")
            .EnumerateObject()
            .Where(p => p.Value.TryGetProperty("get", out _))
            .Select(p => p.Name[Root.Length..]);
        var missing = described.Except(requests.Select(r => r.Operation)).ToList();
        if (missing.Count > 0)
            throw new InvalidOperationException($"Add a request for each GET: {string.Join(", ", missing)}.");
        foreach (var (operation, path, who) in requests)
        {
            var name = path.Replace(student, "{student}", StringComparison.Ordinal).Replace(attempt, "{id}", StringComparison.Ordinal);
            all.Add(new($"{Shorter(name)}, {who}", Whole.Contains(operation), () => AskAsync(path, who)));
        }
    }

    private static string Shorter(string path) => string.Join('/', path.Split('/').Select(p => Guid.TryParse(p, out _) ? "{id}" : p));

    private async Task<long> AskAsync(string path, string who)
    {
        using var response = await SendAsync(HttpMethod.Get, path, null, who: who);
        return (await response.Content.ReadAsByteArrayAsync()).LongLength;
    }

    private async Task<JsonElement> ReadAsync(string path, string who)
    {
        using var response = await SendAsync(HttpMethod.Get, path, null, who: who);
        return await response.Content.ReadFromJsonAsync<JsonElement>();
    }

    private async Task<string> SendRecordingAsync()
    {
        using var recording = await SendAsync(HttpMethod.Get, "school/sample-recording", null);
        using var form = new MultipartFormDataContent
        {
            { new ByteArrayContent(await recording.Content.ReadAsByteArrayAsync()), "track", "sample.gpx" },
        };
        using var response = await SendAsync(HttpMethod.Post, "uploads", form);
        return (await response.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("id").GetString()!;
    }

    private async Task<int> SaveDraftTwiceAsync(string slug)
    {
        var template = await ReadAsync($"drills/{slug}", "chief");
        foreach (var title in (string[])["Racetrack, shorter", "Racetrack, longer"])
        {
            var draft = JsonNode.Parse(template.GetRawText())!;
            draft["title"] = title;
            using var _ = await SendAsync(HttpMethod.Put, $"drills/{slug}/draft", JsonContent.Create(draft));
        }

        var kept = await ReadAsync($"drills/{slug}/draft/revisions", "chief");
        return kept[0].GetProperty("revision").GetInt32();
    }

    private async Task<HttpResponseMessage> SendAsync(
        HttpMethod method,
        string path,
        HttpContent? content,
        string who = "chief",
        bool orElse = false
    )
    {
        using var message = new HttpRequestMessage(method, Root + path) { Content = content };
        message.Headers.Authorization = new AuthenticationHeaderValue("Bearer", await TokenAsync(who));
        var response = await http.SendAsync(message);
        if (!orElse && !response.IsSuccessStatusCode)
        {
            throw new HttpRequestException(
                $"{method} {path}: {(int)response.StatusCode} {await response.Content.ReadAsStringAsync()}",
                null,
                response.StatusCode
            );
        }

        return response;
    }

    private async Task<string> TokenAsync(string who)
    {
        if (tokens.TryGetValue(who, out var known) && Environment.TickCount64 - known.At < 300_000)
            return known.Token;
        var answer = await http.PostAsJsonAsync($"{Root}session", new { email = $"{who}@tussockplains.example", password = "drills-demo" });
        answer.EnsureSuccessStatusCode();
        var token = (await answer.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("accessToken").GetString()!;
        tokens[who] = (token, Environment.TickCount64);
        return token;
    }

    private static async Task<string> IdAsync(NpgsqlConnection owner, string sql) => (await ScalarAsync<Guid>(owner, sql)).ToString();

    private static async Task<T> ScalarAsync<T>(NpgsqlConnection owner, string sql)
    {
        await using var command = new NpgsqlCommand(sql, owner);
        return (T)(await command.ExecuteScalarAsync() ?? throw new InvalidOperationException($"Nothing is found by {sql}"));
    }
}
