using System.Globalization;
using System.IO.Compression;

namespace SchoolDrills.Engine.Tracks;

/// <summary>The recording inside a stream: as it is, gunzipped (RFC 1952), or the one file of a zip.</summary>
internal sealed class Inflation : IDisposable
{
    private readonly List<IDisposable> opened = [];

    public Inflation(Stream stream, TrackReadOptions options, CancellationToken ct)
    {
        var raw = new GuardedStream(stream, options.MaxRawBytes, Message(options.MaxRawBytes, "file"), ct);
        var head = raw.Peek(4);
        var plain =
            IsGzip(head) ? Opened(new GZipStream(raw, CompressionMode.Decompress, leaveOpen: true))
            : IsZip(head) ? OnlyFileOf(raw)
            : raw;
        Content = new GuardedStream(plain, options.MaxInflatedBytes, Message(options.MaxInflatedBytes, "recording"), ct);
    }

    /// <summary>The recording's bytes.</summary>
    public GuardedStream Content { get; }

    public static bool IsCompressed(ReadOnlySpan<byte> head) => IsGzip(head) || IsZip(head);

    public void Dispose()
    {
        for (var i = opened.Count - 1; i >= 0; i--)
            opened[i].Dispose();
    }

    private Stream OnlyFileOf(GuardedStream raw)
    {
        // A zip's table of contents is at its end, so the compressed bytes, already limited, are held in memory.
        var bytes = Opened(new MemoryStream());
        raw.CopyTo(bytes);
        bytes.Position = 0;
        // Opening allocates an object for every entry, so a table of millions must be found before.
        if (bytes.GetBuffer().AsSpan(0, (int)bytes.Length).Count("PK\u0001\u0002"u8) > ReaderLimits.ZipEntries)
        {
            throw TrackRefusedException.Unreadable(
                "The zip file holds a great many files and one recording was expected; send the recording alone."
            );
        }

        var zip = Opened(new ZipArchive(bytes, ZipArchiveMode.Read));
        var files = zip.Entries.Where(IsContent).ToList();
        if (
            files.Count > 1
            && files.Where(f => f.Name.EndsWith(".kml", StringComparison.OrdinalIgnoreCase)).ToList() is { Count: 1 } documents
        )
        {
            files = documents;
        }

        if (files.Exists(f => f.FullName == "[Content_Types].xml"))
            throw TrackRefusedException.Unreadable("The file is an office document; save its table as CSV and send that.");
        return files.Count switch
        {
            0 => throw TrackRefusedException.Unreadable("The zip file has no file in it; put the recording in it, or send it as it is."),
            1 => Opened(files[0].Open()),
            _ => throw TrackRefusedException.Unreadable(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The zip file holds {files.Count:N0} files and one recording was expected; send the recording alone."
                )
            ),
        };
    }

    /// <summary>Folders and the hidden files that some systems add are no recordings.</summary>
    private static bool IsContent(ZipArchiveEntry entry) =>
        entry.Name.Length > 0 && entry.Name[0] != '.' && !entry.FullName.StartsWith("__MACOSX/", StringComparison.Ordinal);

    private T Opened<T>(T disposable)
        where T : IDisposable
    {
        opened.Add(disposable);
        return disposable;
    }

    private static bool IsGzip(ReadOnlySpan<byte> head) => head is [0x1F, 0x8B, ..];

    private static bool IsZip(ReadOnlySpan<byte> head) => head is [0x50, 0x4B, 0x03, 0x04, ..] or [0x50, 0x4B, 0x05, 0x06, ..];

    private static string Message(long bytes, string what) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"The {what} is larger than {bytes / (1024 * 1024):N0} MiB; cut out the flight with the drill and send that."
        );
}
