using System.Buffers;
using System.Security.Cryptography;

namespace SchoolDrills.Api.Operators;

/// <summary>What an archive says of itself.</summary>
/// <param name="Format">Of this description; 1.</param>
/// <param name="Schema">The last migration of the database it was made from.</param>
internal sealed record ArchiveManifest(
    int Format,
    Guid SchoolId,
    string School,
    DateTimeOffset MadeAtUtc,
    string Schema,
    string EngineVersion,
    IReadOnlyList<ArchivedTable> Tables,
    ArchivedPart SecondFactors,
    IReadOnlyDictionary<string, string> LeftOut
);

/// <summary>A table's rows, in the binary form of PostgreSQL's COPY, by its key.</summary>
internal sealed record ArchivedTable(string Name, IReadOnlyList<string> Columns, long Rows, string Sha256);

internal sealed record ArchivedPart(int Rows, string Sha256);

/// <summary>The key of an authenticator app, freed of the protection of the installation it comes from.</summary>
internal sealed record MovedKey(Guid PersonId, string Key);

/// <summary>A table of a school, as the database's catalog has it.</summary>
/// <param name="SchoolColumn">Says whose a row is.</param>
/// <param name="Columns">Those that are archived.</param>
/// <param name="Order">By which rows come, so that the same rows are the same bytes.</param>
internal sealed record SchoolTable(string Name, string SchoolColumn, IReadOnlyList<string> Columns, string Order)
{
    public string CopyOut(Guid schoolId) =>
        $"copy (select {ColumnList} from public.{Quoted(Name)} where {SchoolColumn} = '{schoolId}' order by {Order}) "
        + "to stdout (format binary)";

    public string ColumnList => string.Join(", ", Columns.Select(Quoted));

    public static string Quoted(string name) => '"' + name.Replace("\"", "\"\"", StringComparison.Ordinal) + '"';
}

/// <summary>
/// One file for a whole school: a zip of <c>manifest.json</c>, its SHA-256, and a part for each table. Which tables there are is the
/// database's to say, so that a later one cannot be forgotten; what stays behind is named here, with the reason.
/// </summary>
internal static class ArchiveFormat
{
    public const int Version = 1;

    public const string Manifest = "manifest.json",
        ManifestSha256 = "manifest.sha256",
        SecondFactors = "second-factors.json";

    /// <summary>Tables that are not moved.</summary>
    public static readonly IReadOnlyDictionary<string, string> LeftOutTables = new Dictionary<string, string>
    {
        ["api_tokens"] = "programs' tokens open this installation: new ones are made at the other",
        ["day_tallies"] = "counted anew from what is moved",
        ["entry_links"] = "links lead to this installation: the chief makes new ones",
        ["scoring_claims"] = "who scores what just now",
        ["sessions"] = "people sign in anew",
        ["student_summaries"] = "counted anew from what is moved",
        ["student_tallies"] = "counted anew from what is moved",
    };

    /// <summary>Columns that are not moved with their rows.</summary>
    public static readonly IReadOnlyDictionary<string, string> LeftOutColumns = new Dictionary<string, string>
    {
        ["attempts.job_id"] = "number in this installation's job queue",
        ["credentials.authenticator_key"] = "under this installation's keys: second-factors.json has it without them",
        ["rescorings.job_id"] = "number in this installation's job queue",
        ["schools.most_stored_bytes"] = "a limit of this installation's operator",
        ["schools.most_uploads_an_hour"] = "a limit of this installation's operator",
        ["schools.scoring_served_at_utc"] = "the turns of this installation's schools",
        ["schools.stored_bytes"] = "counted anew from what is moved",
        ["schools.suspended_at_utc"] = "decided by this installation's operator",
    };

    public static string PartOf(string table) => $"tables/{table}";

    public static async Task<List<SchoolTable>> TablesAsync(OwnerConnection owner, CancellationToken ct)
    {
        var columns = await owner.ReadAsync(
            """
            select c.relname, a.attname, a.attgenerated <> '' or a.attidentity <> '',
              coalesce(k.place, 0), t.typcategory = 'S'
            from pg_class c join pg_attribute a on a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped
            join pg_type t on t.oid = a.atttypid
            left join (
              select i.indrelid, key.attnum, key.place from pg_index i, unnest(i.indkey) with ordinality as key (attnum, place)
              where i.indisprimary) k on k.indrelid = c.oid and k.attnum = a.attnum
            where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p') and (c.relname = 'schools' or exists (
              select from pg_attribute s where s.attrelid = c.oid and s.attname = 'school_id' and not s.attisdropped))
            order by c.relname, a.attnum
            """,
            r => (Table: r.GetString(0), Column: r.GetString(1), ByDatabase: r.GetBoolean(2), Key: r.GetInt64(3), IsText: r.GetBoolean(4)),
            ct
        );
        return
        [
            .. columns
                .GroupBy(c => c.Table)
                .Where(t => !LeftOutTables.ContainsKey(t.Key))
                .Select(t => new SchoolTable(
                    t.Key,
                    t.Key == "schools" ? "id" : "school_id",
                    [.. t.Where(c => !c.ByDatabase && !LeftOutColumns.ContainsKey($"{t.Key}.{c.Column}")).Select(c => c.Column)],
                    string.Join(
                        ", ",
                        t.Where(c => c.Key > 0)
                            .OrderBy(c => c.Key)
                            .Select(c => SchoolTable.Quoted(c.Column) + (c.IsText ? " collate \"C\"" : ""))
                    )
                )),
        ];
    }

    public static async Task<string> SchemaAsync(OwnerConnection owner, CancellationToken ct) =>
        (await owner.ReadAsync("select max(\"MigrationId\") from \"__EFMigrationsHistory\"", r => r.GetString(0), ct))[0];

    /// <summary>Copies a stream, and says what its bytes hash to. Nothing but a buffer is in memory.</summary>
    public static async Task<string> CopyAsync(Stream from, Stream to, CancellationToken ct)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var buffer = ArrayPool<byte>.Shared.Rent(1 << 17);
        try
        {
            int read;
            while ((read = await from.ReadAsync(buffer, ct)) > 0)
            {
                hash.AppendData(buffer, 0, read);
                await to.WriteAsync(buffer.AsMemory(0, read), ct);
            }
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(buffer);
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    /// <summary>The rows of a table, written out, with their hash.</summary>
    public static async Task<string> CopyOutAsync(OwnerConnection owner, SchoolTable table, Guid schoolId, Stream to, CancellationToken ct)
    {
        await using var rows = await owner.Connection.BeginRawBinaryCopyAsync(table.CopyOut(schoolId), ct);
        return await CopyAsync(rows, to, ct);
    }

    public static async Task<long> CountAsync(OwnerConnection owner, SchoolTable table, Guid schoolId, CancellationToken ct) =>
        (
            await owner.ReadAsync(
                $"select count(*) from public.{SchoolTable.Quoted(table.Name)} where {table.SchoolColumn} = $1",
                r => r.GetInt64(0),
                ct,
                schoolId
            )
        )[0];
}
