using System.Text;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Expectations follow the GPX 1.0 and 1.1 schemas (topografix.com) and XML Schema's dateTime.</summary>
public class GpxReaderTests
{
    private static string Gpx(string points, string version = "1.1") =>
        $"""
            <?xml version="1.0" encoding="UTF-8"?>
            <gpx version="{version}" creator="test" xmlns="http://www.topografix.com/GPX/{version.Replace('.', '/')}">
             <trk><trkseg>{points}</trkseg></trk>
            </gpx>
            """;

    [Fact]
    public void Elevation_is_metres_above_mean_sea_level()
    {
        var track = Recording.GoodText(Gpx("""<trkpt lat="41.5" lon="-99.5"><ele>304.8</ele><time>2026-01-17T17:30:00Z</time></trkpt>"""));
        Assert.Equal(1000, Assert.Single(track.GpsAltitudeFt!), 9);
        Assert.False(track.GpsAltitudeIsEllipsoidal);
        Assert.Equal(41.5, track.LatDeg[0]);
        Assert.Equal(-99.5, track.LonDeg[0]);
        Assert.Equal(new DateTimeOffset(2026, 1, 17, 17, 30, 0, TimeSpan.Zero), track.EpochUtc);
    }

    [Theory]
    [InlineData("2026-01-17T17:30:00Z", 0)]
    [InlineData("2026-01-17T17:30:00.25Z", 0.25)]
    [InlineData("2026-01-17T17:30:00.123456789Z", 0.1234567)]
    [InlineData("2026-01-18T06:30:00+13:00", 0)]
    [InlineData("2026-01-17T11:30:00.5-06:00", 0.5)]
    [InlineData(" 2026-01-17T17:30:00Z ", 0)]
    public void Times_have_fractions_and_offsets(string time, double secondsAfter)
    {
        var track = Recording.GoodText(Gpx($"<trkpt lat='1' lon='2'><time>{time}</time></trkpt>"));
        Assert.Equal(secondsAfter, (track.EpochUtc - new DateTimeOffset(2026, 1, 17, 17, 30, 0, TimeSpan.Zero)).TotalSeconds, 6);
        Assert.Empty(track.Warnings);
    }

    [Fact]
    public void Times_without_a_zone_are_taken_as_UTC_with_a_warning()
    {
        var track = Recording.GoodText(Gpx("<trkpt lat='1' lon='2'><time>2026-01-17T17:30:00</time></trkpt>"));
        Assert.Equal(17, track.EpochUtc.Hour);
        Assert.Contains("UTC", Assert.Single(track.Warnings));
    }

    [Fact]
    public void Points_without_elevation_keep_a_gap_and_points_without_time_are_dropped()
    {
        var track = Recording.GoodText(
            Gpx(
                """
                <trkpt lat="1" lon="2"><ele>100</ele><time>2026-01-17T17:30:00Z</time></trkpt>
                <trkpt lat="1" lon="2"><time>2026-01-17T17:30:01Z</time></trkpt>
                <trkpt lat="1" lon="2"><ele>100</ele></trkpt>
                <trkpt lat="1" lon="2"/>
                <trkpt lat="91" lon="2"><time>2026-01-17T17:30:02Z</time></trkpt>
                <trkpt lat="1" lon="NaN"><time>2026-01-17T17:30:02Z</time></trkpt>
                <trkpt lat="1" lon="2"><ele>101</ele><time>2026-01-17T17:30:03Z</time></trkpt>
                """
            )
        );
        Assert.Equal([0, 1, 3], track.TimeS);
        Assert.True(double.IsNaN(track.GpsAltitudeFt![1]));
        Assert.Equal(4, track.DroppedRecords);
        Assert.Contains("4 records", Assert.Single(track.Warnings));
    }

    [Fact]
    public void Segments_and_tracks_follow_each_other()
    {
        var track = Recording.GoodText(
            Gpx(
                """
                <trkpt lat="1" lon="2"><time>2026-01-17T17:30:00Z</time></trkpt></trkseg><trkseg>
                <trkpt lat="3" lon="4"><time>2026-01-17T17:40:00Z</time></trkpt></trkseg></trk><trk><trkseg>
                <trkpt lat="5" lon="6"><time>2026-01-17T17:50:00Z</time></trkpt>
                """
            )
        );
        Assert.Equal([1, 3, 5], track.LatDeg);
        Assert.Equal([0, 600, 1200], track.TimeS);
    }

    [Fact]
    public void Waypoints_and_routes_are_no_samples()
    {
        var text = Gpx("<trkpt lat='1' lon='2'><time>2026-01-17T17:30:00Z</time></trkpt>")
            .Replace(" <trk>", "<wpt lat='8' lon='9'><time>2026-01-17T17:30:00Z</time></wpt><rte><rtept lat='8' lon='9'/></rte><trk>");
        Assert.Equal(1, Recording.GoodText(text).Count);
    }

    [Fact]
    public void Speed_and_course_come_from_GPX_1_0_and_from_extensions()
    {
        // 10 m/s = 10 * 3600 / 1852 kt.
        var old = Recording.GoodText(
            Gpx("<trkpt lat='1' lon='2'><time>2026-01-17T17:30:00Z</time><course>271.5</course><speed>10</speed></trkpt>", "1.0")
        );
        var extended = Recording.GoodText(
            Gpx(
                """
                <trkpt lat="1" lon="2"><time>2026-01-17T17:30:00Z</time>
                <extensions><x:TrackPointExtension xmlns:x="urn:example:track-point">
                <x:atemp>12</x:atemp><x:speed>10</x:speed><x:course>271.5</x:course></x:TrackPointExtension></extensions></trkpt>
                """
            )
        );
        foreach (var track in new[] { old, extended })
        {
            Assert.Equal(19.438445, track.GroundSpeedKt![0], 6);
            Assert.Equal(271.5, track.CourseTrueDeg![0]);
        }
    }

    [Theory]
    [InlineData("utf-16")]
    [InlineData("utf-8")]
    public void The_encoding_may_be_any_that_XML_allows(string encoding)
    {
        var text = Gpx("<trkpt lat='1' lon='2'><time>2026-01-17T17:30:00Z</time></trkpt>").Replace("UTF-8", encoding.ToUpperInvariant());
        var bytes = Encoding.GetEncoding(encoding);
        Assert.Equal(1, Recording.Good(Recording.ReadBytes([.. bytes.GetPreamble(), .. bytes.GetBytes(text)])).Count);
    }

    [Fact]
    public void Points_without_any_time_are_refused_with_the_reason() =>
        Assert.Contains("no time", Recording.Bad(Recording.ReadText(Gpx("<trkpt lat='1' lon='2'/>")), TrackProblemKind.Unreadable).Message);

    [Fact]
    public void A_document_type_is_refused()
    {
        var bomb = new StringBuilder("<?xml version=\"1.0\"?><!DOCTYPE gpx [<!ENTITY a0 \"ha\">");
        for (var i = 1; i < 30; i++)
            bomb.Append(System.Globalization.CultureInfo.InvariantCulture, $"<!ENTITY a{i} \"&a{i - 1};&a{i - 1};\">");
        bomb.Append("]><gpx><trk><trkseg><trkpt lat='1' lon='2'><time>&a29;</time></trkpt></trkseg></trk></gpx>");
        Assert.Contains("DOCTYPE", Recording.Bad(Recording.ReadText(bomb.ToString()), TrackProblemKind.Unreadable).Message);
    }

    [Fact]
    public void A_document_type_far_into_the_file_is_refused_too()
    {
        var text = "<?xml version=\"1.0\"?>" + new string(' ', 200_000) + "<!DOCTYPE gpx><gpx><trk/></gpx>";
        Recording.Bad(Recording.ReadText(text), TrackProblemKind.Unreadable);
    }

    [Fact]
    public void An_external_entity_is_never_loaded()
    {
        var secret = Path.GetTempFileName();
        File.WriteAllText(secret, "2026-01-17T17:30:00Z");
        try
        {
            var text =
                "<?xml version=\"1.0\"?><!DOCTYPE gpx [<!ENTITY x SYSTEM "
                + $"\"file://{secret}\">]><gpx><trk><trkseg><trkpt lat='1' lon='2'><time>&x;</time></trkpt></trkseg></trk></gpx>";
            Recording.Bad(Recording.ReadText(text), TrackProblemKind.Unreadable);
        }
        finally
        {
            File.Delete(secret);
        }
    }

    [Fact]
    public void Bottomless_nesting_is_refused()
    {
        var text = "<gpx>" + string.Concat(Enumerable.Repeat("<a>", 1_000_000));
        var before = GC.GetAllocatedBytesForCurrentThread();
        Recording.Bad(Recording.ReadText(text), TrackProblemKind.Unreadable);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 16 * 1024 * 1024);
    }

    [Fact]
    public void An_endless_attribute_is_refused()
    {
        var text = "<gpx><trk><trkseg><trkpt lat='" + new string('1', 10_000_000) + "' lon='2'/></trkseg></trk></gpx>";
        var bytes = Encoding.UTF8.GetBytes(text);
        var before = GC.GetAllocatedBytesForCurrentThread();
        Recording.Bad(Recording.ReadBytes(bytes), TrackProblemKind.Unreadable);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 16 * 1024 * 1024);
    }
}
