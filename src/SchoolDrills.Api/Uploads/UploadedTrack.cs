using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.WebUtilities;

namespace SchoolDrills.Api.Uploads;

/// <summary>A recording as it came in, to be read as often as need be; a long one waits on disk, not in memory.</summary>
/// <param name="Length">Bytes.</param>
/// <param name="Open">Gives the bytes from the first; the reader leaves the stream open, and the one before is read no more.</param>
internal sealed record UploadedTrack(string FileName, long Length, Func<Stream> Open)
{
    private const int InMemoryBytes = 256 << 10;

    /// <summary>A recording that is in memory already.</summary>
    public static UploadedTrack Of(string fileName, byte[] bytes) =>
        new(fileName, bytes.Length, () => new MemoryStream(bytes, writable: false));

    /// <summary>Takes in a body as it comes.</summary>
    /// <returns>Null once the body is longer than it may be. What is on disk goes with the answer, or with the process.</returns>
    public static async Task<UploadedTrack?> ReceiveAsync(HttpContext http, string fileName, Stream body, long limit, CancellationToken ct)
    {
        var spool = new FileBufferingReadStream(body, InMemoryBytes);
        http.Response.RegisterForDisposeAsync(spool);
        var buffer = new byte[81920];
        var unlinked = OperatingSystem.IsWindows();
        while (await spool.ReadAsync(buffer, ct) > 0)
        {
            if (spool.Position > limit)
                return null;
            // Without a name it is gone with the process, however that ends; Windows does so by itself.
            if (!unlinked && spool.TempFileName is { } file)
            {
                File.Delete(file);
                unlinked = true;
            }
        }

        return new UploadedTrack(fileName, spool.Position, FromStart);

        Stream FromStart()
        {
            spool.Position = 0;
            return spool;
        }
    }
}
