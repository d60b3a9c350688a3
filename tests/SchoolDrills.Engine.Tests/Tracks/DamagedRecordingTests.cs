using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Recordings damaged on purpose: good records are used, damaged ones reported.</summary>
public class DamagedRecordingTests
{
    [Fact]
    public void A_truncated_GPX_is_used_up_to_its_end()
    {
        var track = Recording.GoodFile("damaged/truncated.gpx");
        Assert.Equal(581, track.Count);
        Assert.Equal(Recording.GoodFile("f01.gpx").LatDeg[..581], track.LatDeg);
        Assert.Contains("line 586", Assert.Single(track.Warnings));
    }

    [Fact]
    public void A_truncated_IGC_is_used_up_to_its_end()
    {
        var track = Recording.GoodFile("damaged/truncated.igc");
        Assert.Equal(1080, track.Count);
        Assert.Equal(Recording.GoodFile("f07.igc.gz").LatDeg[..1080], track.LatDeg);
        Assert.Contains("cut short in line 1096", track.Warnings[0]);
        Assert.Equal(1, track.DroppedRecords);
    }

    [Fact]
    public void Sentences_with_wrong_checksums_are_counted()
    {
        var track = Recording.GoodFile("damaged/bad-checksums.nmea.gz");
        Assert.Equal(142, track.DroppedRecords);
        Assert.Contains("142 sentences", Assert.Single(track.Warnings));
        // Of 1,630 seconds those are lost in which both sentences are damaged.
        Assert.InRange(track.Count, 1_600, 1_630);
    }

    [Fact]
    public void Metres_under_a_header_in_feet_are_noticed_and_reported()
    {
        var track = Recording.GoodFile("damaged/altitude-in-metres.csv.gz");
        Assert.Equal(3, track.Warnings.Count);
        Assert.All(track.Warnings, w => Assert.Contains("metres", w));
        // The undamaged aeroplane is parked on its field, about 1,050 ft up, when the recording begins.
        Assert.InRange(track.IndicatedAltitudeFt![0], 1_040, 1_060);
        Assert.InRange(track.GpsAltitudeFt![0], 1_030, 1_060);
    }

    [Theory]
    [InlineData("damaged/duplicates-and-order.csv", 441)]
    [InlineData("damaged/position-spikes.gpx", 400)]
    [InlineData("damaged/slow-0.2hz.gpx", 326)]
    [InlineData("damaged/dropout-30s.gpx.gz", 1682)]
    public void Records_out_of_order_or_place_are_left_to_the_cleaner(string name, int count)
    {
        var track = Recording.GoodFile(name);
        Assert.Equal(count, track.Count);
        Assert.Equal(0, track.DroppedRecords);
        Assert.Empty(track.Warnings);
    }

    [Fact]
    public void An_empty_track_is_refused() =>
        Assert.Contains(
            "no track points",
            Recording.Bad(Recording.ReadFile("damaged/empty-track.gpx"), TrackProblemKind.Unreadable).Message
        );

    [Fact]
    public void Zero_bytes_are_refused() => Recording.Bad(Recording.ReadFile("damaged/zero-bytes.csv"), TrackProblemKind.Empty);

    [Theory]
    [InlineData("f10.csv")]
    [InlineData("f12.csv")]
    [InlineData("f13.csv")]
    public void A_flight_with_its_altitudes_turned_to_metres_reads_as_before(string name)
    {
        var lines = System.Text.Encoding.UTF8.GetString(Recording.Bytes(name)).TrimEnd().Split('\n');
        for (var i = 1; i < lines.Length; i++)
        {
            var cells = lines[i].Split(',');
            for (var column = 3; column <= 5; column++)
            {
                cells[column] = Math.Round(int.Parse(cells[column], System.Globalization.CultureInfo.InvariantCulture) * 0.3048)
                    .ToString(System.Globalization.CultureInfo.InvariantCulture);
            }

            lines[i] = string.Join(',', cells);
        }
        var good = Recording.GoodFile(name);
        var track = Recording.GoodText(string.Join('\n', lines));
        Assert.Equal(3, track.Warnings.Count);
        for (var i = 0; i < good.Count; i++)
            Assert.Equal(good.IndicatedAltitudeFt![i], track.IndicatedAltitudeFt![i], 1.7);
    }
}
