using Microsoft.Extensions.Configuration;
using Npgsql;
using SchoolDrills.Api.Data.Postgres;

namespace SchoolDrills.Api.Operators;

/// <summary>
/// The operator's command <c>import-school</c>: puts an archive into this installation, all of it or nothing. The rules of the database
/// stay in force: row-level security, triggers and keys hold for these rows as for any other.
/// </summary>
internal static class ImportCommand
{
    /// <summary>Attempts name their newest report, and reports their attempt: this is filled in once both are there.</summary>
    private const string Later = "attempts",
        LaterColumn = "latest_report_id";

    public static async Task RunAsync(
        DatabaseHost database,
        IConfiguration configuration,
        string file,
        TextWriter output,
        CancellationToken ct
    )
    {
        await using var archive = await ArchiveFile.OpenAsync(file, ct);
        var manifest = archive.Manifest;
        await using var owner = await OwnerConnection.OpenAsync(database, ct);
        await owner.EnterAsync(manifest.SchoolId, ct);
        await using var transaction = await owner.Connection.BeginTransactionAsync(ct);
        var tables = await ArchiveFormat.TablesAsync(owner, ct);
        await RefuseAsync(owner, manifest, tables, ct);
        var byName = manifest.Tables.ToDictionary(t => t.Name);
        try
        {
            foreach (var table in await InOrderAsync(owner, tables, ct))
                await LoadAsync(owner, table, archive, byName[table.Name], ct);
            await owner.ExecuteAsync(
                $"update {Later} a set {LaterColumn} = s.{LaterColumn} from {Later}_moved s "
                    + $"where s.id = a.id and s.{LaterColumn} is not null",
                ct
            );
            // What triggers count at the end of a transaction they count now; then all of it once more, from what is there.
            await owner.ExecuteAsync("set constraints all immediate", ct);
            await owner.ExecuteAsync("select tally.rebuild()", ct);
        }
        catch (PostgresException e)
            when (e.SqlState
                    is PostgresErrorCodes.UniqueViolation
                        or PostgresErrorCodes.ForeignKeyViolation
                        or PostgresErrorCodes.CheckViolation
            )
        {
            throw new StartupRefusedException(
                $"Nothing was imported: a row of {e.TableName} clashes with one that is here already ({e.ConstraintName}): "
                    + "the archive's rows are in this installation under another school.",
                e
            );
        }

        foreach (var table in tables)
            await CompareAsync(owner, table, byName[table.Name], manifest.SchoolId, output, ct);
        await using (var moved = new MovedKeys(database, configuration))
            await moved.WriteAsync(owner, manifest.SchoolId, archive.SecondFactors, ct);
        await owner.NoteAsync(manifest.SchoolId, "school-imported", $"exported {manifest.MadeAtUtc:yyyy-MM-dd HH:mm} UTC", ct);
        await transaction.CommitAsync(ct);
        await output.WriteLineAsync(
            $"{manifest.School} is here with all it had: people sign in with the passwords and codes they have. "
                + "Sessions, links and programs' tokens did not come along."
        );
    }

    private static async Task RefuseAsync(OwnerConnection owner, ArchiveManifest manifest, List<SchoolTable> tables, CancellationToken ct)
    {
        var schema = await ArchiveFormat.SchemaAsync(owner, ct);
        var order = string.CompareOrdinal(manifest.Schema, schema);
        if (order > 0)
        {
            throw new StartupRefusedException(
                $"The archive was made by a newer SchoolDrills ({manifest.Schema}; this has {schema}): upgrade this installation first."
            );
        }

        if (order < 0)
        {
            throw new StartupRefusedException(
                $"The archive was made by an older SchoolDrills ({manifest.Schema}; this has {schema}): upgrade the installation it "
                    + "comes from to this version, then export again."
            );
        }

        var (there, said) = (
            tables.Select(t => Shape(t.Name, t.Columns)).Order().ToList(),
            manifest.Tables.Select(t => Shape(t.Name, t.Columns)).Order().ToList()
        );
        if (!there.SequenceEqual(said))
        {
            throw new StartupRefusedException(
                "The archive has other tables or columns than this installation "
                    + $"({there.Except(said).Concat(said.Except(there)).First()}): "
                    + "export with the same version as imports."
            );
        }

        if ((await owner.ReadAsync("select 1 from schools where id = $1", _ => 1, ct, manifest.SchoolId)).Count > 0)
        {
            throw new StartupRefusedException(
                $"{manifest.School} is here already ({manifest.SchoolId}): a school is imported where it is not, never over itself."
            );
        }
    }

    private static string Shape(string name, IReadOnlyList<string> columns) => $"{name} ({string.Join(", ", columns)})";

    /// <summary>Tables after those they refer to.</summary>
    private static async Task<List<SchoolTable>> InOrderAsync(OwnerConnection owner, List<SchoolTable> tables, CancellationToken ct)
    {
        var refers = (
            await owner.ReadAsync(
                """
                select f.conrelid::regclass::text, f.confrelid::regclass::text from pg_constraint f
                join pg_attribute a on a.attrelid = f.conrelid and a.attnum = f.conkey[1]
                where f.contype = 'f' and f.connamespace = 'public'::regnamespace and f.conrelid <> f.confrelid
                  and not (f.conrelid::regclass::text = $1 and a.attname = $2)
                """,
                r => (From: r.GetString(0), To: r.GetString(1)),
                ct,
                Later,
                LaterColumn
            )
        ).ToLookup(r => r.From, r => r.To);
        var (ordered, left) = (new List<SchoolTable>(), tables.ToList());
        while (left.Count > 0)
        {
            var names = left.Select(t => t.Name).ToHashSet();
            var ready = left.FindAll(t => !refers[t.Name].Any(names.Contains));
            if (ready.Count == 0)
                throw new InvalidOperationException($"Tables refer to each other in a ring: {string.Join(", ", names)}.");
            ordered.AddRange(ready);
            left = left.FindAll(t => !ready.Contains(t));
        }

        return ordered;
    }

    private static async Task LoadAsync(
        OwnerConnection owner,
        SchoolTable table,
        ArchiveFile archive,
        ArchivedTable archived,
        CancellationToken ct
    )
    {
        if (table.Name == Later)
        {
            var moved = $"{Later}_moved";
            await owner.ExecuteAsync(
                $"create temp table {moved} on commit drop as select {table.ColumnList} from {Later} with no data",
                ct
            );
            await CopyInAsync(owner, $"copy {moved} ({table.ColumnList}) from stdin (format binary)", archive, archived, ct);
            var columns = string.Join(", ", table.Columns.Select(c => c == LaterColumn ? "null" : SchoolTable.Quoted(c)));
            await owner.ExecuteAsync($"insert into {Later} ({table.ColumnList}) select {columns} from {moved}", ct);
            return;
        }

        var name = SchoolTable.Quoted(table.Name);
        await CopyInAsync(owner, $"copy public.{name} ({table.ColumnList}) from stdin (format binary)", archive, archived, ct);
    }

    private static async Task CopyInAsync(
        OwnerConnection owner,
        string sql,
        ArchiveFile archive,
        ArchivedTable archived,
        CancellationToken ct
    )
    {
        await using var from = await archive.OpenAsync(archived, ct);
        await using var to = await owner.Connection.BeginRawBinaryCopyAsync(sql, ct);
        await ArchiveFormat.CopyAsync(from, to, ct);
    }

    /// <summary>The rows as they now are, written out again, have to be the same bytes.</summary>
    private static async Task CompareAsync(
        OwnerConnection owner,
        SchoolTable table,
        ArchivedTable archived,
        Guid schoolId,
        TextWriter output,
        CancellationToken ct
    )
    {
        var rows = await ArchiveFormat.CountAsync(owner, table, schoolId, ct);
        var sha256 = await ArchiveFormat.CopyOutAsync(owner, table, schoolId, Stream.Null, ct);
        if (rows != archived.Rows || sha256 != archived.Sha256)
        {
            throw new StartupRefusedException(
                $"Nothing was imported: {table.Name} did not come out as it went in ({rows} rows instead of {archived.Rows}, or other "
                    + "values): tell whoever maintains SchoolDrills, and keep the archive."
            );
        }

        await output.WriteLineAsync($"{table.Name, -26} {rows, 9} rows  sha256 {sha256[..16]}  same");
    }
}
