using System.IO.Compression;

namespace SchoolDrills.Api.Attempts;

/// <summary>An uploaded file as it is kept: unchanged, or compressed where that makes it smaller.</summary>
internal readonly record struct StoredBytes(bool Squeezed, byte[] Content)
{
    /// <param name="open">Gives the bytes from the first, and once more where they do not get fewer.</param>
    public static StoredBytes Of(Func<Stream> open, long length)
    {
        using var compressed = new MemoryStream();
        using (var gzip = new GZipStream(compressed, CompressionLevel.Optimal, leaveOpen: true))
            open().CopyTo(gzip);
        if (compressed.Length < length)
            return new StoredBytes(true, compressed.ToArray());
        var bytes = new byte[length];
        open().ReadExactly(bytes);
        return new StoredBytes(false, bytes);
    }

    /// <summary>The bytes as they were sent.</summary>
    public Stream Open()
    {
        var stored = new MemoryStream(Content, writable: false);
        return Squeezed ? new GZipStream(stored, CompressionMode.Decompress) : stored;
    }
}
