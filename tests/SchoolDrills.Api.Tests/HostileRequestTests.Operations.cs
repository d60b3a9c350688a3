using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Tests;

/// <summary>The operations of the reference, each with a request that is well meant, for one value in it to be replaced.</summary>
public sealed partial class HostileRequestTests
{
    /// <summary>The reference says of a drill's template where its schema is, not what is in it.</summary>
    private async Task<JsonNode> TemplateAsync()
    {
        using var http = await app.HttpAsync(SchoolsFixture.Chief);
        return JsonNode.Parse(await http.GetStringAsync("/api/v1/drills/timed-turns", Cancel))!;
    }

    private async Task<List<Operation>> OperationsAsync(JsonNode template)
    {
        using var http = app.CreateClient();
        var reference = JsonNode.Parse(await http.GetStringAsync("/api/v1/openapi.json", Cancel))!;
        return
        [
            .. reference["paths"]!
                .AsObject()
                .SelectMany(path =>
                    path.Value!.AsObject()
                        .Select(operation => new Operation(
                            new HttpMethod(operation.Key.ToUpperInvariant()),
                            path.Key,
                            [
                                .. (operation.Value!["parameters"]?.AsArray() ?? []).Select(p =>
                                    (p!["name"]!.GetValue<string>(), p["in"]!.GetValue<string>())
                                ),
                            ],
                            operation.Value["requestBody"]?["content"]?["application/json"]?["schema"] is { } schema
                                    ? Sample(schema, reference, "", 0)
                                : path.Key.EndsWith("/draft", StringComparison.Ordinal)
                                || path.Key.EndsWith("/drills", StringComparison.Ordinal) && operation.Key == "post"
                                    ? template
                                : null
                        ))
                ),
        ];
    }

    /// <summary>Work, people and rows that the ids in the paths name.</summary>
    private async Task<Dictionary<string, string>> PlacesAsync()
    {
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        var student = await app.AsAsync(SchoolsFixture.Student);
        var assignmentId = (await student.AttemptAsync(attemptId, Cancel)).AssignmentId!.Value;
        var logId = Guid.NewGuid();
        await student.PutFlightLogAsync(assignmentId, logId, new PutFlightLog { SentAtUtc = DateTimeOffset.UtcNow }, Cancel);
        await using var track = SchoolsFixture.Recording("f12.csv");
        var pending = await student.SendRecordingAsync(track, "f12.csv", Cancel);
        var spare = await (await app.AsAsync(SchoolsFixture.Chief)).InviteAsync(
            new InvitePerson("A spare", "spare@tussockplains.example", [Roles.Student]),
            Cancel
        );
        var note = await (await app.AsAsync(SchoolsFixture.Chief)).AddStudentNoteAsync(
            app.IdOf(SchoolsFixture.Student),
            new SaveStudentNote("A note."),
            Cancel
        );
        var reportId = await app.QueryAsync(db => db.ScoreReports.Select(r => r.Id).FirstAsync(Cancel));
        return new()
        {
            ["/attempts/{id}"] = $"/attempts/{attemptId}",
            ["/assignments/{id}"] = $"/assignments/{assignmentId}",
            ["/uploads/{id}"] = $"/uploads/{pending.Id}",
            ["/people/{id}"] = $"/people/{spare.Person.Id}",
            ["/students/{id}"] = $"/students/{app.IdOf(SchoolsFixture.Student)}",
            ["/notes/{id}"] = $"/notes/{note.Id}",
            ["{reportId}"] = reportId.ToString(),
            ["{slug}"] = "timed-turns",
            ["{number}"] = "1",
            ["{eventId}"] = "00000000-0000-7000-8000-000000000001",
            ["/flight-logs/{id}"] = $"/flight-logs/{logId}",
            ["{logId}"] = "00000000-0000-7000-8000-000000000002",
            ["{sessionId}"] = "00000000-0000-7000-8000-000000000001",
            ["{tokenId}"] = "00000000-0000-7000-8000-000000000001",
        };
    }

    private static string Filled(string path, Dictionary<string, string> places) =>
        places.Aggregate(path, (filled, place) => filled.Replace(place.Key, place.Value, StringComparison.Ordinal));

    /// <summary>Whoever gets furthest.</summary>
    private static string WhoFor(string path) =>
        path.EndsWith("/self-assessment", StringComparison.Ordinal)
        || path.EndsWith("/acknowledge", StringComparison.Ordinal)
        || path.Contains("/uploads", StringComparison.Ordinal)
        || path.EndsWith("/events/{eventId}", StringComparison.Ordinal)
            ? SchoolsFixture.Student
            : SchoolsFixture.Chief;

    private AttemptMeta FullMeta() =>
        new()
        {
            Drill = "timed-turns",
            StudentId = app.IdOf(SchoolsFixture.Student),
            FlownOn = new DateOnly(2026, 3, 2),
            QnhHpa = 1013,
            OatC = 10,
            WindFromDegTrue = 250,
            WindKt = 12,
            HeadingMagDeg = 90,
            AltitudeFt = 4000,
            AirspeedKt = 100,
            Mirrored = false,
            Events = [new AttemptEvent(Guid.CreateVersion7(), "mark", DateTimeOffset.UnixEpoch, "a word")],
            LoadRatings = [3],
            RememberColumns = false,
        };

    /// <summary>A value that a schema allows.</summary>
    private static JsonNode? Sample(JsonNode schema, JsonNode reference, string name, int depth)
    {
        if (schema["$ref"]?.GetValue<string>() is { } other)
            return Sample(reference["components"]!["schemas"]![other.Split('/')[^1]]!, reference, name, depth + 1);
        if ((schema["oneOf"] ?? schema["anyOf"])?.AsArray() is { } choices)
            return Sample(choices.First(c => c!["type"]?.ToString() != "null")!, reference, name, depth + 1);
        if (schema["enum"]?.AsArray() is [{ } first, ..])
            return first.DeepClone();
        var type = schema["type"] switch
        {
            JsonArray types => types.Select(t => t!.ToString()).First(t => t != "null"),
            { } one => one.ToString(),
            null => schema["properties"] is null ? "" : "object",
        };
        return type switch
        {
            "object" when depth < 8 => new JsonObject(
                (schema["properties"]?.AsObject() ?? []).Select(p =>
                    KeyValuePair.Create(p.Key, Sample(p.Value!, reference, p.Key, depth + 1))
                )
            ),
            "array" when depth < 8 => new JsonArray(Sample(schema["items"]!, reference, name, depth + 1)),
            "object" or "array" => null,
            "boolean" => true,
            "integer" or "number" => 1,
            _ => Word(name, schema["format"]?.ToString()),
        };
    }

    private static string Word(string name, string? format) =>
        (name, format) switch
        {
            (_, "uuid") => "00000000-0000-7000-8000-000000000001",
            (_, "date") => "2026-03-02",
            (_, "date-time") => "2026-03-02T10:00:00Z",
            ("email", _) => "somebody@tussockplains.example",
            ("roles", _) => "student",
            ("timeZone", _) => "Europe/Lisbon",
            ("overall" or "grade", _) => "to-standard",
            ("drillSlug" or "slug" or "drill", _) => "timed-turns",
            ("kind", _) => "mark",
            ("scope", _) => "read",
            ("password" or "new", _) => "attitude plus power",
            _ => "a word",
        };

    /// <param name="Parameters">Names, and whether in the path or the query.</param>
    /// <param name="Body">One that the schema allows; null where there is none, or it is multipart.</param>
    private sealed record Operation(HttpMethod Method, string Path, List<(string Name, string Where)> Parameters, JsonNode? Body)
    {
        public string Name => $"{Method} {Path}";

        public bool IsUpload =>
            Method == HttpMethod.Post
            && (
                Path.EndsWith("/attempts", StringComparison.Ordinal)
                || Path.EndsWith("/uploads", StringComparison.Ordinal)
                || Path.EndsWith("/score-preview", StringComparison.Ordinal)
            );
    }
}
