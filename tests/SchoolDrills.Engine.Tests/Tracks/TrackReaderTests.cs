using System.Text;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

public class TrackReaderTests
{
    [Theory]
    [InlineData("f13.gpx", "gpx", 400)]
    [InlineData("f13.nmea", "nmea", 400)]
    [InlineData("f13.csv", "csv", 400)]
    [InlineData("f01.kml", "kml", 849)]
    [InlineData("f14.igc.gz", "igc", 1448)]
    public void The_format_is_recognized_by_content(string name, string format, int count)
    {
        // The reader gets a stream, so there is no name to go by.
        var track = Recording.GoodFile(name);
        Assert.Equal(format, track.Format);
        Assert.Equal(count, track.Count);
        Assert.Empty(track.Warnings);
        Assert.Equal(0, track.DroppedRecords);
    }

    [Fact]
    public void Gzip_and_zip_of_one_file_read_as_the_file_itself()
    {
        var plain = Recording.Bytes("f13.gpx");
        var expected = Recording.Good(Recording.ReadBytes(plain));
        foreach (
            var packed in new[]
            {
                Recording.Gzipped(plain),
                Recording.Zipped(("track.dat", plain)),
                Recording.Zipped(("track.gpx", plain), ("__MACOSX/._track.gpx", [1, 2, 3]), (".DS_Store", [0])),
            }
        )
        {
            var track = Recording.Good(Recording.ReadBytes(packed));
            Assert.Equal(expected.LatDeg, track.LatDeg);
            Assert.Equal(expected.TimeS, track.TimeS);
        }
    }

    [Fact]
    public void A_kmz_with_pictures_reads_as_its_document()
    {
        var packed = Recording.Zipped(("doc.kml", Recording.Bytes("f01.kml")), ("files/icon.png", [0x89, 0x50]));
        Assert.Equal("kml", Recording.Good(Recording.ReadBytes(packed)).Format);
    }

    [Fact]
    public void A_zip_of_two_recordings_is_refused()
    {
        var packed = Recording.Zipped(("a.gpx", Recording.Bytes("f13.gpx")), ("b.gpx", Recording.Bytes("f12.gpx")));
        Assert.Contains("2 files", Recording.Bad(Recording.ReadBytes(packed), TrackProblemKind.Unreadable).Message);
    }

    [Fact]
    public void A_zip_of_a_great_many_files_is_refused_before_they_are_listed()
    {
        var packed = Recording.Zipped([.. Enumerable.Range(0, 20_000).Select(i => ($"{i}.gpx", Array.Empty<byte>()))]);
        var before = GC.GetAllocatedBytesForCurrentThread();
        Recording.Bad(Recording.ReadBytes(packed), TrackProblemKind.Unreadable);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 12 * 1024 * 1024);
    }

    [Fact]
    public void A_zip_with_nothing_in_it_is_refused() =>
        Recording.Bad(Recording.ReadBytes(Recording.Zipped()), TrackProblemKind.Unreadable);

    [Fact]
    public void A_compressed_file_inside_a_compressed_file_is_refused()
    {
        var gzip = Recording.Gzipped(Recording.Bytes("f13.gpx"));
        foreach (
            var nested in new[]
            {
                Recording.Gzipped(gzip),
                Recording.Zipped(("a.gz", gzip)),
                Recording.Zipped(("a.zip", Recording.Zipped(("b", gzip)))),
            }
        )
        {
            Recording.Bad(Recording.ReadBytes(nested), TrackProblemKind.UnknownFormat);
        }
    }

    [Fact]
    public void A_truncated_gzip_is_used_as_far_as_it_goes()
    {
        var packed = Recording.Gzipped(Recording.Bytes("f12.csv"));
        var track = Recording.Good(Recording.ReadBytes(packed[..(packed.Length / 2)]));
        Assert.InRange(track.Count, 50, 428);
        Assert.NotEmpty(track.Warnings);
    }

    [Fact]
    public void A_gzip_damaged_at_its_start_is_refused()
    {
        var packed = Recording.Gzipped(Recording.Bytes("f12.csv"));
        packed[2] = 0xFF;
        Recording.Bad(Recording.ReadBytes(packed), TrackProblemKind.Unreadable);
    }

    [Theory]
    [InlineData("gzip")]
    [InlineData("zip")]
    public void A_compression_bomb_stops_at_the_limit(string kind)
    {
        var blanks = new byte[40 * 1024 * 1024];
        Array.Fill(blanks, (byte)'\n');
        "time,lat,lon"u8.CopyTo(blanks);
        var bomb = kind == "gzip" ? Recording.Gzipped(blanks) : Recording.Zipped(("track.csv", blanks));
        var before = GC.GetAllocatedBytesForCurrentThread();
        var problem = Recording.Bad(
            Recording.ReadBytes(bomb, new TrackReadOptions { MaxInflatedBytes = 1024 * 1024 }),
            TrackProblemKind.TooLarge
        );
        Assert.Contains("1 MiB", problem.Message);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 8 * 1024 * 1024);
    }

    [Fact]
    public void More_bytes_than_may_be_sent_are_refused() =>
        Recording.Bad(Recording.ReadFile("f13.gpx", new TrackReadOptions { MaxRawBytes = 1024 }), TrackProblemKind.TooLarge);

    [Fact]
    public void Six_hundred_thousand_samples_are_refused()
    {
        var csv = new StringBuilder("time,lat,lon\n");
        for (var i = 0; i < 600_000; i++)
            csv.Append(1_770_000_000 + i).Append(",41.5,-99.5\n");
        var problem = Recording.Bad(Recording.ReadText(csv.ToString()), TrackProblemKind.TooLarge);
        Assert.Contains("500,000", problem.Message);
    }

    [Fact]
    public void As_many_samples_as_allowed_are_read()
    {
        Assert.Equal(400, Recording.Good(Recording.ReadFile("f13.gpx", new TrackReadOptions { MaxSamples = 400 })).Count);
        Recording.Bad(Recording.ReadFile("f13.gpx", new TrackReadOptions { MaxSamples = 399 }), TrackProblemKind.TooLarge);
        Recording.Bad(Recording.ReadFile("f01.kml", new TrackReadOptions { MaxSamples = 399 }), TrackProblemKind.TooLarge);
    }

    [Fact]
    public void No_bytes_are_refused_as_empty() => Recording.Bad(Recording.ReadBytes([]), TrackProblemKind.Empty);

    [Fact]
    public void Binary_noise_is_no_recording()
    {
        var random = new Random(20260701);
        for (var i = 0; i < 50; i++)
        {
            var noise = new byte[random.Next(1, 100_000)];
            random.NextBytes(noise);
            Recording.Bad(Recording.ReadBytes(noise), TrackProblemKind.UnknownFormat);
        }
    }

    [Theory]
    [InlineData("<html><body>Not found</body></html>")]
    [InlineData("{\"error\": \"not found\"}")]
    [InlineData("Dear instructor, here is my flight of today.")]
    public void Other_text_is_no_recording(string text) => Recording.Bad(Recording.ReadText(text), TrackProblemKind.UnknownFormat);

    [Fact]
    public void One_line_without_end_is_refused_before_it_fills_memory()
    {
        var line = "time,lat,lon\n" + new string('1', 20 * 1024 * 1024);
        var bytes = Encoding.UTF8.GetBytes(line);
        var before = GC.GetAllocatedBytesForCurrentThread();
        Recording.Bad(Recording.ReadBytes(bytes), TrackProblemKind.Unreadable);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 8 * 1024 * 1024);
    }

    [Fact]
    public void The_stream_is_left_open_and_need_not_seek()
    {
        using var stream = new ForwardOnlyStream(Recording.Bytes("f13.gpx"));
        Assert.Equal(400, Recording.Good(TrackReader.Read(stream, ct: TestContext.Current.CancellationToken)).Count);
        Assert.True(stream.CanRead);
        using var zip = new ForwardOnlyStream(Recording.Zipped(("track.gpx", Recording.Bytes("f13.gpx"))));
        Assert.Equal(400, Recording.Good(TrackReader.Read(zip, ct: TestContext.Current.CancellationToken)).Count);
    }

    [Fact]
    public void A_cancelled_read_stops()
    {
        using var cancelled = new CancellationTokenSource();
        cancelled.Cancel();
        Assert.Throws<OperationCanceledException>(() =>
            TrackReader.Read(new MemoryStream(Recording.Bytes("f13.gpx")), ct: cancelled.Token)
        );
    }

    [Fact]
    public void The_culture_of_the_machine_changes_nothing()
    {
        var expected = Recording.GoodFile("f12.csv");
        var before = Thread.CurrentThread.CurrentCulture;
        try
        {
            Thread.CurrentThread.CurrentCulture = System.Globalization.CultureInfo.GetCultureInfo("ar-SA");
            var track = Recording.GoodFile("f12.csv");
            Assert.Equal(expected.LatDeg, track.LatDeg);
            Assert.Equal(expected.EpochUtc, track.EpochUtc);
        }
        finally
        {
            Thread.CurrentThread.CurrentCulture = before;
        }
    }

    /// <summary>Hands out a few bytes at a time, as a network does.</summary>
    private sealed class ForwardOnlyStream(byte[] bytes) : MemoryStream(bytes)
    {
        public override bool CanSeek => false;

        public override int Read(byte[] buffer, int offset, int count) => base.Read(buffer, offset, Math.Min(count, 777));

        public override int Read(Span<byte> buffer) => base.Read(buffer[..Math.Min(buffer.Length, 777)]);
    }
}
