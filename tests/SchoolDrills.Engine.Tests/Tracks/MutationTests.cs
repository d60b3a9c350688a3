using System.Globalization;
using System.Text;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>
/// Recordings with random damage, the same damage in every run. The result must be a problem in words or samples that are possible
/// true; <c>SCHOOLDRILLS_FUZZ</c> sets how many damaged copies of each recording are tried.
/// </summary>
public class MutationTests
{
    private static readonly int Tries = int.Parse(
        Environment.GetEnvironmentVariable("SCHOOLDRILLS_FUZZ") ?? "200",
        CultureInfo.InvariantCulture
    );

    private static readonly string[] Splices =
    [
        "9999999999999999",
        "-1",
        "1e308",
        "NaN",
        "\"",
        "<",
        ">",
        "&x;",
        "]]>",
        "<!--",
        "\0",
        "\n",
        "\r",
        ",",
        ";",
        "$",
        "*00",
        "2026-02-30T25:61:61Z",
        "<trkpt lat=\"",
        "</trkseg>",
        "<gx:coord>",
        "B235959",
        "HFDTE999999",
        "I99",
        "$GPRMC,",
        "\uFEFF",
        "\uD800",
        "time,lat,lon\n",
        "position,",
        "<Trackpoint><Time>",
        "km/h",
        " N/S",
        "\0\0\0\0\0\0",
        "+13:00,",
    ];

    [Theory]
    [InlineData("f13.gpx")]
    [InlineData("f13.nmea")]
    [InlineData("f13.csv")]
    [InlineData("f06-first-20-minutes.csv")]
    [InlineData("f14.igc.gz")]
    [InlineData("f01.kml")]
    public void Damage_never_leads_to_an_exception_or_to_impossible_samples(string name)
    {
        var good = Shortened(Recording.PlainBytes(name));
        var random = new Random(name.Aggregate(17, (seed, c) => seed * 31 + c));
        for (var i = 0; i < Tries; i++)
        {
            var bytes = Damaged(good, random);
            if (i % 10 == 0)
                bytes = Damaged(Recording.Gzipped(bytes), random);
            else if (i % 10 == 1)
                bytes = Damaged(Recording.Zipped(("track", bytes)), random);
            Check(bytes, $"{name}, try {i}");
        }
    }

    public static TheoryData<string> Written => [.. Layouts.All.Keys];

    [Theory]
    [MemberData(nameof(Written))]
    public void Damage_to_any_layout_never_leads_to_an_exception_or_to_impossible_samples(string layout)
    {
        var good = Shortened(Layouts.Write(layout, Recording.GoodFile("f13.gpx")));
        var random = new Random(layout.Aggregate(17, (seed, c) => seed * 31 + c));
        for (var i = 0; i < Tries; i++)
            Check(Damaged(good, random), $"{layout}, try {i}");
    }

    /// <summary>A remembered choice of columns meets a file that only resembles the one it was made for.</summary>
    [Fact]
    public void Damage_under_a_choice_of_columns_never_leads_to_an_exception()
    {
        var where = new ColumnChoice("position");
        var options = new TrackReadOptions
        {
            ColumnMapping = new Dictionary<string, ColumnChoice>
            {
                ["timeS"] = new("timestamp"),
                ["latDeg"] = where,
                ["lonDeg"] = where,
                ["gpsAltitudeFt"] = new("altitude (m)", "ft"),
            },
        };
        var good = Shortened(Layouts.Write("pair", Recording.GoodFile("f13.gpx")));
        var random = new Random(20261127);
        for (var i = 0; i < Tries; i++)
            Check(Damaged(good, random), $"choice of columns, try {i}", options);
    }

    [Fact]
    public void Every_cut_of_a_short_recording_reads_or_is_refused()
    {
        foreach (var name in new[] { "f13.gpx", "f13.nmea", "f13.csv", "f14.igc.gz", "f01.kml" })
        {
            var bytes = Recording.PlainBytes(name)[..700];
            for (var length = 0; length < bytes.Length; length++)
                Check(bytes[..length], $"{name}, {length} bytes");
        }
        foreach (var layout in Layouts.All.Keys)
        {
            var bytes = Layouts.Write(layout, Recording.GoodFile("f13.gpx"))[..500];
            for (var length = 0; length < bytes.Length; length++)
                Check(bytes[..length], $"{layout}, {length} bytes");
        }
    }

    private static void Check(byte[] bytes, string what, TrackReadOptions? options = null)
    {
        // A reader that hangs is stopped by the token and fails the test; one that hoards memory fails by what it allocates.
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        patience.CancelAfter(TimeSpan.FromMinutes(1));
        var before = GC.GetAllocatedBytesForCurrentThread();
        TrackReadResult result;
        try
        {
            TrackReader.ReadHeader(new MemoryStream(bytes), options, patience.Token);
            result = TrackReader.Read(new MemoryStream(bytes), options, patience.Token);
        }
        catch (Exception e)
        {
            var kept = Path.Combine(Path.GetTempPath(), "schooldrills-fuzz-failure.bin");
            File.WriteAllBytes(kept, bytes);
            throw new InvalidOperationException($"{what}: {e.Message} (bytes kept in {kept})", e);
        }
        Assert.True(GC.GetAllocatedBytesForCurrentThread() - before < 32 * 1024 * 1024, what);
        Assert.True(result.Track is null != result.Problem is null, what);
        if (result.Problem is { } problem)
            Assert.EndsWith(".", problem.Message);
        else
            CheckSamples(result.Track!, what);
    }

    private static void CheckSamples(Track track, string what)
    {
        Assert.True(track.Count > 0, what);
        Assert.InRange(track.EpochUtc.Year, 1980, 2099);
        for (var i = 0; i < track.Count; i++)
        {
            Assert.True(double.IsFinite(track.TimeS[i]), what);
            Assert.True(Math.Abs(track.LatDeg[i]) <= 90 && Math.Abs(track.LonDeg[i]) <= 180, what);
        }
        foreach (var property in typeof(Track).GetProperties())
        {
            if (property.GetValue(track) is not double[] values)
                continue;
            Assert.Equal(track.Count, values.Length);
            Assert.DoesNotContain(values, double.IsInfinity);
        }
    }

    /// <summary>The beginning and the end of a recording: all that is special about it, and quick to read.</summary>
    private static byte[] Shortened(byte[] bytes) => bytes.Length < 24_000 ? bytes : [.. bytes[..20_000], .. bytes[^4_000..]];

    private static byte[] Damaged(byte[] good, Random random)
    {
        var bytes = good.ToList();
        for (var times = random.Next(1, 6); times > 0 && bytes.Count > 0; times--)
        {
            // Half of the damage goes where the format is recognized.
            var at = random.Next(random.Next(2) == 0 ? Math.Min(bytes.Count, 600) : bytes.Count);
            var length = Math.Min(random.Next(1, random.Next(2) == 0 ? 8 : 2_000), bytes.Count - at);
            switch (random.Next(7))
            {
                case 0:
                    bytes[at] = (byte)random.Next(256);
                    break;
                case 1:
                    bytes[at] ^= (byte)(1 << random.Next(8));
                    break;
                case 2:
                    bytes.RemoveRange(at, length);
                    break;
                case 3:
                    bytes.InsertRange(at, bytes.GetRange(at, length));
                    break;
                case 4:
                    bytes.RemoveRange(at, bytes.Count - at);
                    break;
                case 5:
                    bytes.InsertRange(at, Encoding.UTF8.GetBytes(Splices[random.Next(Splices.Length)]));
                    break;
                default:
                    var noise = new byte[length];
                    random.NextBytes(noise);
                    bytes.InsertRange(at, noise);
                    break;
            }
        }
        return [.. bytes];
    }
}
