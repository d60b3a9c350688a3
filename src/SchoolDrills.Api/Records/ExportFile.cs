using System.IO.Compression;
using System.Text;
using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace SchoolDrills.Api.Records;

/// <summary>
/// Everything that is kept, as a zip: a JSON array for each table of the school, and the recordings as they were uploaded. Tables are
/// found in the database's own catalogue, so that one which is new is in the export by itself. Written as it is read; the whole is
/// never held.
/// </summary>
internal static class ExportFile
{
    /// <summary>What opens an account is nobody's to take out.</summary>
    private static readonly string[] SecretColumns =
    [
        "hash",
        "password_hash",
        "security_stamp",
        "concurrency_stamp",
        "authenticator_key",
        "recovery_code_hashes",
        "last_code_step",
        "others",
    ];

    /// <summary>Readme of the file, for whoever finds it in ten years.</summary>
    private const string About =
        "Made by SchoolDrills. data/ holds one JSON array for each table, with the names of its columns; times are UTC. recordings/ holds\n"
        + "the recordings of flights as they were uploaded, in a folder named by the id of the attempt (data/attempts.json). Passwords,\n"
        + "keys and the columns of plots, which can be computed anew, are not in it.\n";

    /// <param name="personId">Whose; the whole school's where it is null.</param>
    public static async Task WriteAsync(
        Stream body,
        SchoolDrillsDbContext db,
        AccountsDbContext accounts,
        Guid? personId,
        CancellationToken ct
    )
    {
        await using var zip = await ZipArchive.CreateAsync(body, ZipArchiveMode.Create, leaveOpen: true, Encoding.UTF8, ct);
        await using (var about = await zip.CreateEntry("README.txt").OpenAsync(ct))
            await about.WriteAsync(Encoding.UTF8.GetBytes(About), ct);
        await WriteTablesAsync(zip, db, [], personId, ct);
        // Sessions, tokens and links, without what opens them, are the accounts' to read.
        await WriteTablesAsync(zip, accounts, (await TablesAsync(db, ct)).Keys, personId, ct);

        await WriteRecordingsAsync(zip, db, personId, ct);
    }

    private static async Task WriteTablesAsync(
        ZipArchive zip,
        SchoolDrillsDbContext db,
        IEnumerable<string> written,
        Guid? personId,
        CancellationToken ct
    )
    {
        await db.Database.OpenConnectionAsync(ct);
        foreach (var (table, columns) in await TablesAsync(db, ct))
        {
            if (!written.Contains(table) && (personId is null || Of(table, columns) is not null))
                await WriteTableAsync(zip, (NpgsqlConnection)db.Database.GetDbConnection(), table, columns, personId, ct);
        }

        await db.Database.CloseConnectionAsync();
    }

    private static async Task WriteTableAsync(
        ZipArchive zip,
        NpgsqlConnection connection,
        string table,
        IReadOnlyList<string> columns,
        Guid? personId,
        CancellationToken ct
    )
    {
        await using var json = await zip.CreateEntry($"data/{table}.json").OpenAsync(ct);
        await using var text = new StreamWriter(json, new UTF8Encoding(false));
        var where = personId is null ? "" : $"where {Of(table, columns)}";
        await using var command = new NpgsqlCommand(
            $"select row_to_json(r)::text from (select {string.Join(", ", columns.Select(c => $"\"{c}\""))} from "
                + $"{RowsOf(table)} t {where}) r",
            connection
        );
        if (personId is { } id)
            command.Parameters.Add(new NpgsqlParameter { Value = id });
        await using var reader = await command.ExecuteReaderAsync(ct);
        var isFirst = true;
        await text.WriteAsync("[");
        while (await reader.ReadAsync(ct))
        {
            await text.WriteAsync(isFirst ? "\n" : ",\n");
            await text.WriteAsync(reader.GetString(0));
            isFirst = false;
        }

        await text.WriteAsync("\n]\n");
    }

    private static async Task WriteRecordingsAsync(ZipArchive zip, SchoolDrillsDbContext db, Guid? personId, CancellationToken ct)
    {
        var attempts = await db
            .Attempts.AsNoTracking()
            .Where(a => personId == null || a.StudentId == personId)
            .OrderBy(a => a.UploadedAtUtc)
            .Select(a => new { a.Id, a.FileName })
            .ToListAsync(ct);
        foreach (var attempt in attempts)
        {
            if (await db.TrackFiles.AsNoTracking().FirstOrDefaultAsync(f => f.AttemptId == attempt.Id, ct) is not { } file)
                continue;
            await using var entry = await zip.CreateEntry($"recordings/{attempt.Id}/{FlatName(attempt.FileName)}").OpenAsync(ct);
            await using var original = file.OpenOriginal();
            await original.CopyToAsync(entry, ct);
        }
    }

    /// <summary>Notes on the person who asks are hidden from this connection, and yet to be handed out.</summary>
    private static string RowsOf(string table) =>
        table == "student_notes"
            ? "(select * from public.student_notes union all select * from lookup.notes_on_me())"
            : $"public.\"{table}\"";

    /// <summary>Which rows are a person's: by the first of these columns that the table has; null where none says so.</summary>
    private static string? Of(string table, IReadOnlyList<string> columns) =>
        table switch
        {
            "people" => "t.id = $1",
            "schools" => "true or $1 is null",
            "audit_entries" => "t.person_id = $1 or t.subject_id = $1",
            _ when columns.Contains("student_id") => "t.student_id = $1",
            _ when columns.Contains("attempt_id") => "t.attempt_id in (select a.id from public.attempts a where a.student_id = $1)",
            _ when columns.Contains("grade_id") =>
                "t.grade_id in (select g.id from public.grades g join public.attempts a on a.id = g.attempt_id where a.student_id = $1)",
            _ when columns.Contains("person_id") => "t.person_id = $1",
            _ => null,
        };

    /// <summary>Tables of a school that this role can read, each with its columns.</summary>
    private static async Task<IReadOnlyDictionary<string, string[]>> TablesAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        await db.Database.OpenConnectionAsync(ct);
        await using var command = new NpgsqlCommand(
            """
            select c.relname::text, array_agg(a.attname::text order by a.attnum)
            from pg_class c join pg_attribute a on a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped
            where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p')
              and a.atttypid <> 'bytea'::regtype and a.attname <> all ($1)
              and (c.relname = 'schools' or exists (
                select from pg_attribute s where s.attrelid = c.oid and s.attname = 'school_id' and not s.attisdropped))
              and has_table_privilege(c.oid, 'select') and c.relname not in ('credentials', 'track_files', 'track_plots')
            group by c.relname order by c.relname
            """,
            (NpgsqlConnection)db.Database.GetDbConnection()
        )
        {
            Parameters = { new() { Value = SecretColumns } },
        };
        await using var reader = await command.ExecuteReaderAsync(ct);
        var tables = new OrderedDictionary<string, string[]>();
        while (await reader.ReadAsync(ct))
            tables.Add(reader.GetString(0), await reader.GetFieldValueAsync<string[]>(1, ct));
        await reader.DisposeAsync();
        await db.Database.CloseConnectionAsync();
        return tables;
    }

    /// <summary>A name that stays in its folder wherever the zip is unpacked.</summary>
    private static string FlatName(string name)
    {
        var flat = new string([.. name.Where(c => !char.IsControl(c) && c is not ('/' or '\\' or ':'))]).Trim('.', ' ');
        return flat.Length == 0 ? "track" : flat;
    }
}
