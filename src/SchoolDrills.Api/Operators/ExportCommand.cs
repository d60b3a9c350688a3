using System.Data;
using System.IO.Compression;
using System.Text.Json;
using Microsoft.Extensions.Configuration;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Operators;

/// <summary>
/// The operator's command <c>export-school</c>: everything of a school as it is at one moment, in one file that its owner alone may read.
/// </summary>
internal static class ExportCommand
{
    public static async Task RunAsync(
        DatabaseHost database,
        IConfiguration configuration,
        string nameOrId,
        string file,
        TextWriter output,
        CancellationToken ct
    )
    {
        await using var owner = await OwnerConnection.OpenAsync(database, ct);
        var school = await owner.EnterAsync(nameOrId, ct);
        if (File.Exists(file))
            throw new StartupRefusedException($"{file} is there already: name a file that is not, or move that one away.");
        // Under its own name only once it is whole.
        var unfinished = file + ".unfinished";
        try
        {
            ArchiveManifest manifest;
            int unreadable;
            await using (var archive = Create(unfinished))
                (manifest, unreadable) = await WriteAsync(database, configuration, owner, school, archive, ct);
            File.Move(unfinished, file);
            await owner.NoteAsync(school.Id, "school-exported", $"{manifest.Tables.Sum(t => t.Rows)} rows", ct);
            await output.WriteLineAsync(
                $"{school.Name} is in {file}: {manifest.Tables.Sum(t => t.Rows)} rows of {manifest.Tables.Count} tables."
            );
            await output.WriteLineAsync(
                "Keep it as a secret: it has everybody's records, password hashes and keys of authenticator apps. "
                    + "Sessions, links and programs' tokens are not in it."
            );
            if (unreadable > 0)
            {
                await output.WriteLineAsync(
                    $"{unreadable} keys of authenticator apps could not be read: these people use a recovery code, or the chief resets it."
                );
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StartupRefusedException($"{file} cannot be written ({e.Message}): name a file on a disk with room for it.", e);
        }
        finally
        {
            File.Delete(unfinished);
        }
    }

    private static FileStream Create(string file)
    {
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.ReadWrite };
        if (!OperatingSystem.IsWindows())
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        return new FileStream(file, options);
    }

    private static async Task<(ArchiveManifest Manifest, int Unreadable)> WriteAsync(
        DatabaseHost database,
        IConfiguration configuration,
        OwnerConnection owner,
        FoundSchool school,
        FileStream file,
        CancellationToken ct
    )
    {
        // One moment for all tables, whatever hosts write meanwhile.
        await using var moment = await owner.Connection.BeginTransactionAsync(IsolationLevel.RepeatableRead, ct);
        await using var zip = await ZipArchive.CreateAsync(file, ZipArchiveMode.Create, leaveOpen: true, null, ct);
        var tables = new List<ArchivedTable>();
        foreach (var table in await ArchiveFormat.TablesAsync(owner, ct))
        {
            var rows = await ArchiveFormat.CountAsync(owner, table, school.Id, ct);
            await using var part = await OpenAsync(zip, ArchiveFormat.PartOf(table.Name), ct);
            var sha256 = await ArchiveFormat.CopyOutAsync(owner, table, school.Id, part, ct);
            tables.Add(new ArchivedTable(table.Name, table.Columns, rows, sha256));
        }

        await using var moved = new MovedKeys(database, configuration);
        var (keys, unreadable) = await moved.ReadAsync(owner, school.Id, ct);
        var keysSha256 = await WriteAsync(
            zip,
            ArchiveFormat.SecondFactors,
            JsonSerializer.SerializeToUtf8Bytes(keys, OperatorJson.Default.ListMovedKey),
            ct
        );
        var manifest = new ArchiveManifest(
            ArchiveFormat.Version,
            school.Id,
            school.Name,
            DateTimeOffset.UtcNow,
            await ArchiveFormat.SchemaAsync(owner, ct),
            AttemptScorer.EngineVersion,
            tables,
            new ArchivedPart(keys.Count, keysSha256),
            ArchiveFormat.LeftOutTables.Concat(ArchiveFormat.LeftOutColumns).ToDictionary()
        );
        var sha256OfAll = await WriteAsync(
            zip,
            ArchiveFormat.Manifest,
            JsonSerializer.SerializeToUtf8Bytes(manifest, OperatorJson.Default.ArchiveManifest),
            ct
        );
        await WriteAsync(zip, ArchiveFormat.ManifestSha256, System.Text.Encoding.ASCII.GetBytes(sha256OfAll), ct);
        return (manifest, unreadable);
    }

    private static async Task<string> WriteAsync(ZipArchive zip, string name, byte[] content, CancellationToken ct)
    {
        await using var part = await OpenAsync(zip, name, ct);
        using var from = new MemoryStream(content);
        return await ArchiveFormat.CopyAsync(from, part, ct);
    }

    /// <summary>Recordings are compressed already, so that more than the fastest gains little.</summary>
    private static async Task<Stream> OpenAsync(ZipArchive zip, string name, CancellationToken ct) =>
        await zip.CreateEntry(name, CompressionLevel.Fastest).OpenAsync(ct);
}
