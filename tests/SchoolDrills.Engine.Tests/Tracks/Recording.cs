using System.IO.Compression;
using System.Text;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>The recordings of the test project, and short ones written in a test.</summary>
internal static class Recording
{
    public static string PathOf(string name) => Path.Combine(AppContext.BaseDirectory, "Recordings", name);

    public static byte[] Bytes(string name) => File.ReadAllBytes(PathOf(name));

    /// <summary>A recording as plain bytes, inflated where it is kept compressed.</summary>
    public static byte[] PlainBytes(string name)
    {
        if (!name.EndsWith(".gz", StringComparison.Ordinal))
            return Bytes(name);
        using var gzip = new GZipStream(new MemoryStream(Bytes(name)), CompressionMode.Decompress);
        using var plain = new MemoryStream();
        gzip.CopyTo(plain);
        return plain.ToArray();
    }

    public static TrackReadResult ReadFile(string name, TrackReadOptions? options = null)
    {
        using var stream = File.OpenRead(PathOf(name));
        return TrackReader.Read(stream, options, TestContext.Current.CancellationToken);
    }

    public static TrackReadResult ReadBytes(byte[] bytes, TrackReadOptions? options = null) =>
        TrackReader.Read(new MemoryStream(bytes), options, TestContext.Current.CancellationToken);

    public static TrackReadResult ReadText(string text, TrackReadOptions? options = null) =>
        ReadBytes(Encoding.UTF8.GetBytes(text), options);

    /// <summary>A recording that must be readable.</summary>
    public static Track Good(TrackReadResult result)
    {
        Assert.True(result.Problem is null, result.Problem?.Message);
        return Assert.IsType<Track>(result.Track);
    }

    /// <summary>The problem of a recording that must not be readable: one sentence that ends with what to do.</summary>
    public static TrackProblem Bad(TrackReadResult result, TrackProblemKind kind)
    {
        Assert.Null(result.Track);
        var problem = Assert.IsType<TrackProblem>(result.Problem);
        Assert.Equal(kind, problem.Kind);
        Assert.EndsWith(".", problem.Message);
        Assert.DoesNotContain('\n', problem.Message);
        return problem;
    }

    public static Track GoodFile(string name) => Good(ReadFile(name));

    public static Track GoodText(string text, TrackReadOptions? options = null) => Good(ReadText(text, options));

    public static byte[] Gzipped(byte[] bytes)
    {
        using var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.Fastest, leaveOpen: true))
            gzip.Write(bytes);
        return packed.ToArray();
    }

    public static byte[] Zipped(params (string Name, byte[] Bytes)[] files)
    {
        using var packed = new MemoryStream();
        using (var zip = new ZipArchive(packed, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, bytes) in files)
            {
                using var entry = zip.CreateEntry(name).Open();
                entry.Write(bytes);
            }
        }
        return packed.ToArray();
    }

    public static DateTimeOffset TimeOf(Track track, int index) => track.EpochUtc.AddSeconds(track.TimeS[index]);
}
