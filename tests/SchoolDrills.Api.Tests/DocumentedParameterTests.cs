using System.Net;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests;

/// <summary>What the reference says a query may hold is taken.</summary>
public sealed class DocumentedParameterTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Every_parameter_of_every_reading_takes_each_of_its_documented_values()
    {
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        var attempt = await (await app.AsAsync(SchoolsFixture.Chief)).AttemptAsync(attemptId, Cancel);
        var reportId = await app.QueryAsync(db => db.Set<Attempt>().Select(a => a.LatestReportId).FirstAsync(Cancel));
        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        var (faults, asked) = (new List<string>(), 0);
        foreach (var (path, parameters) in await ReadingsAsync())
        {
            var place = path.Replace("{reportId}", reportId.ToString(), StringComparison.Ordinal)
                .Replace("{slug}", "timed-turns", StringComparison.Ordinal)
                .Replace("{id}", IdFor(path), StringComparison.Ordinal);
            foreach (var parameter in parameters.Where(p => p.GetProperty("in").GetString() == "query"))
            {
                var name = parameter.GetProperty("name").GetString();
                // Not a value of one's own: the page before names it (ListPageTests).
                if (name == "after")
                    continue;
                foreach (var value in ValuesOf(parameter.GetProperty("schema")))
                {
                    asked++;
                    using var answer = await http.GetAsync($"{place}?{name}={value}", HttpCompletionOption.ResponseHeadersRead, Cancel);
                    if (answer.StatusCode is HttpStatusCode.BadRequest or >= HttpStatusCode.InternalServerError)
                        faults.Add($"{path}?{name}={value}: {(int)answer.StatusCode}");
                }
            }
        }

        Assert.True(faults.Count == 0, string.Join(Environment.NewLine, faults));
        Assert.True(asked > 30, $"Only {asked} values are documented.");

        string IdFor(string path) =>
            path switch
            {
                _ when path.Contains("/attempts/", StringComparison.Ordinal) => attemptId.ToString(),
                _ when path.Contains("/assignments/", StringComparison.Ordinal) => attempt.AssignmentId!.Value.ToString(),
                _ => app.IdOf(SchoolsFixture.Student).ToString(),
            };
    }

    [Theory]
    [InlineData("attempts", "status", "queued, scoring, scored, unscorable")]
    [InlineData("assignments", "state", "open, overdue, flown, graded, cancelled")]
    [InlineData("people", "role", "student, instructor, chief")]
    [InlineData("school/audit/export", "format", "csv, json")]
    public async Task A_word_is_documented_as_it_is_written_and_taken_as_nothing_else(string path, string name, string words)
    {
        var (_, parameters) = (await ReadingsAsync()).Single(r => r.Path == $"/api/v1/{path}");
        var documented = ValuesOf(parameters.Single(p => p.GetProperty("name").GetString() == name).GetProperty("schema"));
        Assert.Equal(words, string.Join(", ", documented));
        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        string[] others = ["0", "lost", words.ToUpperInvariant().Split(',')[0], words.Replace(" ", "", StringComparison.Ordinal)];
        foreach (var other in others)
        {
            await (await http.GetAsync($"/api/v1/{path}?{name}={other}", Cancel)).ProblemAsync(HttpStatusCode.BadRequest);
        }
    }

    [Fact]
    public async Task Attempts_are_found_by_their_status()
    {
        var scored = await app.ScoredAsync("box-circles", "f01.gpx");
        var queued = await app.UploadAsync((await app.AssignAsync("racetrack")).Id, "f01.gpx");
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        Assert.Contains((await chief.AttemptsAsync(status: "scored", ct: Cancel)).Items, a => a.AttemptId == scored);
        var waiting = (await chief.AttemptsAsync(status: "queued", ct: Cancel)).Items;
        Assert.Contains(waiting, a => a.AttemptId == queued);
        Assert.All(waiting, a => Assert.Equal(AttemptStatus.Queued, a.Status));
    }

    /// <summary>Whatever an enum is called in the program, in JSON it is read as it is written, and not by its number.</summary>
    [Fact]
    public void Every_enum_of_the_wire_is_read_as_it_is_written()
    {
        var enums = new[] { typeof(AttemptStatus).Assembly, typeof(Engine.Scoring.Verdict).Assembly }
            .SelectMany(a => a.GetExportedTypes())
            .Where(t => t.IsEnum && WireJson.Default.GetTypeInfo(t) is not null)
            .ToList();
        Assert.Contains(typeof(AttemptStatus), enums);
        foreach (var type in enums)
        {
            foreach (var value in Enum.GetValues(type))
            {
                var written = JsonSerializer.Serialize(value, type, WireJson.Default);
                Assert.Equal($"\"{JsonNamingPolicy.KebabCaseLower.ConvertName(value.ToString()!)}\"", written);
                Assert.Equal(value, JsonSerializer.Deserialize(written, type, WireJson.Default));
            }

            Assert.Throws<JsonException>(() => JsonSerializer.Deserialize("0", type, WireJson.Default));
        }
    }

    private async Task<List<(string Path, List<JsonElement> Parameters)>> ReadingsAsync()
    {
        using var http = app.CreateClient();
        var paths = JsonDocument.Parse(await http.GetStringAsync("/api/v1/openapi.json", Cancel)).RootElement.GetProperty("paths");
        return
        [
            .. paths
                .EnumerateObject()
                .Where(p => p.Value.TryGetProperty("get", out _))
                .Select(p =>
                    (p.Name, p.Value.GetProperty("get").TryGetProperty("parameters", out var all) ? all.EnumerateArray().ToList() : [])
                ),
        ];
    }

    /// <summary>All that a schema lists, or one value of its type.</summary>
    private List<string> ValuesOf(JsonElement schema)
    {
        if (schema.TryGetProperty("enum", out var words))
            return [.. words.EnumerateArray().Select(w => w.ToString())];
        var format = schema.TryGetProperty("format", out var said) ? said.GetString() : null;
        var type = schema.TryGetProperty("type", out var kind) ? kind.ToString() : "";
        return type switch
        {
            _ when type.Contains("boolean", StringComparison.Ordinal) => ["true", "false"],
            _ when type.Contains("integer", StringComparison.Ordinal) => ["1"],
            _ when type.Contains("number", StringComparison.Ordinal) => ["90", "90.5"],
            _ when format == "uuid" => [app.IdOf(SchoolsFixture.Student).ToString()],
            _ when format == "date" => ["2026-03-02"],
            _ => ["timed-turns"],
        };
    }
}
