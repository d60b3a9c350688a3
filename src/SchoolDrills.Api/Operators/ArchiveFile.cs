using System.IO.Compression;
using System.Text;
using System.Text.Json;
using SchoolDrills.Api.Data.Postgres;

namespace SchoolDrills.Api.Operators;

/// <summary>An archive that has been read through once and is what its manifest says.</summary>
internal sealed class ArchiveFile : IAsyncDisposable
{
    private readonly ZipArchive zip;

    private ArchiveFile(ZipArchive zip, ArchiveManifest manifest) => (this.zip, Manifest) = (zip, manifest);

    public ArchiveManifest Manifest { get; }

    public List<MovedKey> SecondFactors { get; private set; } = [];

    public ValueTask DisposeAsync() => zip.DisposeAsync();

    /// <exception cref="StartupRefusedException">It is not there, is no archive of a school, or is damaged.</exception>
    public static async Task<ArchiveFile> OpenAsync(string file, CancellationToken ct)
    {
        ZipArchive? zip = null;
        try
        {
            zip = await ZipFile.OpenReadAsync(file, ct);
            var text = await BytesAsync(zip, ArchiveFormat.Manifest, ct);
            var said = Encoding.ASCII.GetString(await BytesAsync(zip, ArchiveFormat.ManifestSha256, ct));
            if (JsonSerializer.Deserialize(text, OperatorJson.Default.ArchiveManifest) is not { } manifest)
                throw new InvalidDataException("there is no manifest");
            if (manifest.Format > ArchiveFormat.Version)
            {
                throw new StartupRefusedException(
                    $"{file} has format {manifest.Format}, which is newer than this SchoolDrills knows: upgrade this installation first."
                );
            }

            if (said != await HashAsync(zip, ArchiveFormat.Manifest, ct))
                throw new InvalidDataException("the manifest was changed");
            foreach (var table in manifest.Tables)
                await CheckAsync(zip, ArchiveFormat.PartOf(table.Name), table.Sha256, ct);
            await CheckAsync(zip, ArchiveFormat.SecondFactors, manifest.SecondFactors.Sha256, ct);
            var keys = JsonSerializer.Deserialize(
                await BytesAsync(zip, ArchiveFormat.SecondFactors, ct),
                OperatorJson.Default.ListMovedKey
            );
            return new ArchiveFile(zip, manifest) { SecondFactors = keys ?? [] };
        }
        catch (Exception e) when (e is InvalidDataException or JsonException or EndOfStreamException)
        {
            if (zip is not null)
                await zip.DisposeAsync();
            throw new StartupRefusedException(
                $"{file} is no archive of a school or is damaged ({e.Message}): copy it again from where it was made, or export again.",
                e
            );
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StartupRefusedException($"{file} cannot be read: {e.Message}", e);
        }
    }

    public Task<Stream> OpenAsync(ArchivedTable table, CancellationToken ct) =>
        zip.GetEntry(ArchiveFormat.PartOf(table.Name))!.OpenAsync(ct);

    private static async Task CheckAsync(ZipArchive zip, string part, string sha256, CancellationToken ct)
    {
        if (await HashAsync(zip, part, ct) != sha256)
            throw new InvalidDataException($"{part} is not as it was written");
    }

    private static async Task<string> HashAsync(ZipArchive zip, string part, CancellationToken ct)
    {
        await using var content = await EntryOf(zip, part).OpenAsync(ct);
        return await ArchiveFormat.CopyAsync(content, Stream.Null, ct);
    }

    private static async Task<byte[]> BytesAsync(ZipArchive zip, string part, CancellationToken ct)
    {
        await using var content = await EntryOf(zip, part).OpenAsync(ct);
        using var held = new MemoryStream();
        await content.CopyToAsync(held, ct);
        return held.ToArray();
    }

    private static ZipArchiveEntry EntryOf(ZipArchive zip, string part) =>
        zip.GetEntry(part) ?? throw new InvalidDataException($"{part} is missing");
}
