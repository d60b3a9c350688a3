using System.Globalization;
using System.Text;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>What reading costs as a recording grows, counted in bytes taken from the stream and bytes allocated, not in seconds.</summary>
public class GrowthTests
{
    public static TheoryData<string> Formats => ["gpx", "kml", "igc", "nmea", "csv"];

    [Theory]
    [MemberData(nameof(Formats))]
    public void Every_byte_is_taken_from_the_stream_once(string format)
    {
        var bytes = Written(format, 5_000);
        var stream = new CountingStream(bytes);
        Assert.Equal(5_000, Recording.Good(TrackReader.Read(stream, ct: TestContext.Current.CancellationToken)).Count);
        Assert.Equal(bytes.Length, stream.Taken);
    }

    [Theory]
    [MemberData(nameof(Formats))]
    public void A_sample_of_a_long_recording_allocates_no_more_than_one_of_a_short_recording(string format)
    {
        var shorter = AllocatedPerSample(format, 8_000);
        var longer = AllocatedPerSample(format, 64_000);
        Assert.True(longer < 1.1 * shorter, $"{longer:0} bytes a sample of 64,000, {shorter:0} of 8,000");
        Assert.InRange(longer, 0, 1_000);
    }

    private static double AllocatedPerSample(string format, int samples)
    {
        var bytes = Written(format, samples);
        Recording.Good(Recording.ReadBytes(bytes));
        var before = GC.GetAllocatedBytesForCurrentThread();
        Recording.Good(Recording.ReadBytes(bytes));
        return (double)(GC.GetAllocatedBytesForCurrentThread() - before) / samples;
    }

    private static byte[] Written(string format, int samples)
    {
        var text = new StringBuilder(
            format switch
            {
                "gpx" => "<gpx version=\"1.1\"><trk><trkseg>\n",
                "kml" => "<kml xmlns:gx=\"http://www.google.com/kml/ext/2.2\"><Placemark><gx:Track>\n",
                "igc" => "AXXX\nHFDTE170126\n",
                "csv" => "utc,lat,lon,gps alt (m),ias_kt,hdg\n",
                _ => "",
            }
        );
        var start = new DateTime(2026, 1, 17, 0, 0, 0, DateTimeKind.Utc);
        for (var i = 0; i < samples; i++)
        {
            var utc = start.AddSeconds(i);
            var minutes = 30_000 + i % 20_000;
            text.AppendLine(
                format switch
                {
                    "gpx" => string.Create(
                        CultureInfo.InvariantCulture,
                        $"<trkpt lat=\"41.{minutes:D5}\" "
                            + $"lon=\"-99.{minutes:D5}\"><ele>900.5</ele><time>{utc:yyyy-MM-ddTHH:mm:ss}Z</time></trkpt>"
                    ),
                    "kml" => string.Create(
                        CultureInfo.InvariantCulture,
                        $"<when>{utc:yyyy-MM-ddTHH:mm:ss}Z</when><gx:coord>-99.{minutes:D5} 41.{minutes:D5} 900.5</gx:coord>"
                    ),
                    "igc" => string.Create(CultureInfo.InvariantCulture, $"B{utc:HHmmss}41{minutes:D5}N099{minutes:D5}WA0090000905"),
                    "nmea" => Rmc(
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"GPRMC,{utc:HHmmss},A,41{minutes / 1000:D2}.{minutes % 1000:D3},N,"
                                + $"099{minutes / 1000:D2}.{minutes % 1000:D3},W,090.0,084.4,{utc:ddMMyy},,"
                        )
                    ),
                    _ => string.Create(
                        CultureInfo.InvariantCulture,
                        $"{utc:yyyy-MM-ddTHH:mm:ss}Z,41.{minutes:D5},-99.{minutes:D5},900.5,95.2,271"
                    ),
                }
            );
        }

        text.Append(
            format switch
            {
                "gpx" => "</trkseg></trk></gpx>",
                "kml" => "</gx:Track></Placemark></kml>",
                _ => "",
            }
        );
        return Encoding.UTF8.GetBytes(text.ToString());
    }

    private static string Rmc(string body) => $"${body}*{body.Aggregate(0, (sum, c) => sum ^ c):X2}";

    private sealed class CountingStream(byte[] bytes) : MemoryStream(bytes)
    {
        public long Taken { get; private set; }

        public override bool CanSeek => false;

        public override int Read(byte[] buffer, int offset, int count)
        {
            var n = base.Read(buffer, offset, count);
            Taken += n;
            return n;
        }
    }
}
