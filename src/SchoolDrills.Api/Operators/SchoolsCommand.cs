using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using Npgsql;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Schools;

namespace SchoolDrills.Api.Operators;

/// <summary>A school as the command <c>schools</c> lists it.</summary>
/// <param name="State">running or suspended.</param>
/// <param name="Bytes">Of its recordings as they are kept.</param>
internal sealed record ListedSchool(
    Guid Id,
    string Name,
    string State,
    long People,
    long Attempts,
    long Bytes,
    long? MostBytes,
    int? MostUploadsAnHour,
    DateTimeOffset? LastFlightUtc
);

/// <summary>The operator's command <c>schools</c>: a table, or JSON for a program.</summary>
internal static class SchoolsCommand
{
    public static async Task RunAsync(DatabaseHost database, bool asJson, TextWriter output, CancellationToken ct)
    {
        await using var owner = await OwnerConnection.OpenAsync(database, ct);
        var schools = new List<ListedSchool>();
        foreach (var school in await owner.SchoolsAsync(ct))
        {
            await owner.EnterAsync(school.Id, ct);
            schools.AddRange(
                await owner.ReadAsync(
                    """
                    select s.id, s.name, case when s.suspended_at_utc is null then 'running' else 'suspended' end,
                      (select count(*) from people p where p.school_id = s.id and p.active),
                      (select count(*) from attempts a where a.school_id = s.id),
                      s.stored_bytes, s.most_stored_bytes, s.most_uploads_an_hour,
                      (select max(a.flown_at_utc) from attempts a where a.school_id = s.id)
                    from schools s where s.id = $1
                    """,
                    Row,
                    ct,
                    school.Id
                )
            );
        }

        if (asJson)
            await output.WriteLineAsync(JsonSerializer.Serialize(schools, OperatorJson.Default.IReadOnlyListListedSchool));
        else if (schools.Count == 0)
            await output.WriteLineAsync("There is no school here yet: the command new-school prints a link with which one is set up.");
        else
            await WriteTableAsync(schools, output);
    }

    private static ListedSchool Row(NpgsqlDataReader r) =>
        new(
            r.GetGuid(0),
            r.GetString(1),
            r.GetString(2),
            r.GetInt64(3),
            r.GetInt64(4),
            r.GetInt64(5),
            r.IsDBNull(6) ? null : r.GetInt64(6),
            r.IsDBNull(7) ? null : r.GetInt32(7),
            r.IsDBNull(8) ? null : r.GetFieldValue<DateTimeOffset>(8)
        );

    private static async Task WriteTableAsync(List<ListedSchool> schools, TextWriter output)
    {
        string[][] rows =
        [
            ["id", "name", "state", "people", "attempts", "recordings", "limit", "uploads/h", "last flight"],
            .. schools.Select(s =>
                new[]
                {
                    s.Id.ToString(),
                    s.Name,
                    s.State,
                    Whole(s.People),
                    Whole(s.Attempts),
                    ByteSize.Text(s.Bytes),
                    s.MostBytes is { } most ? ByteSize.Text(most) : "-",
                    s.MostUploadsAnHour is { } uploads ? Whole(uploads) : "-",
                    s.LastFlightUtc?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "-",
                }
            ),
        ];
        var widths = Enumerable.Range(0, rows[0].Length).Select(column => rows.Max(r => r[column].Length)).ToArray();
        foreach (var row in rows)
            await output.WriteLineAsync(string.Join("  ", row.Select((cell, column) => cell.PadRight(widths[column]))).TrimEnd());
    }

    private static string Whole(long number) => number.ToString(CultureInfo.InvariantCulture);
}

[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, WriteIndented = true)]
[JsonSerializable(typeof(IReadOnlyList<ListedSchool>))]
[JsonSerializable(typeof(ArchiveManifest))]
[JsonSerializable(typeof(List<MovedKey>))]
internal sealed partial class OperatorJson : JsonSerializerContext;
