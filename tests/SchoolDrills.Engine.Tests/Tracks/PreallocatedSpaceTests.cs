using System.Text;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Cards allocate space ahead of a recording: NULs follow its last record, or stand where power was lost.</summary>
public class PreallocatedSpaceTests
{
    [Theory]
    [InlineData("f13.gpx")]
    [InlineData("f13.nmea")]
    [InlineData("f13.csv")]
    [InlineData("f14.igc.gz")]
    [InlineData("f01.kml")]
    public void Half_a_megabyte_of_NULs_after_the_recording_changes_nothing(string name)
    {
        var bytes = Recording.PlainBytes(name);
        var expected = Recording.Good(Recording.ReadBytes(bytes));
        var track = Recording.Good(Recording.ReadBytes([.. bytes, .. new byte[512 * 1024]]));
        Assert.Equal(expected.TimeS, track.TimeS);
        Assert.Equal(expected.LatDeg, track.LatDeg);
        Assert.Equal(expected.Warnings, track.Warnings);
    }

    [Fact]
    public void A_short_recording_in_a_long_empty_file_is_read_and_its_header_too()
    {
        byte[] bytes = [.. "time,lat,lon,alt ft\n1768671000,41.5,-99.5,100\n1768671001,41.5,-99.5,100\n17686"u8, .. new byte[100_000]];
        Assert.Equal(2, Recording.Good(Recording.ReadBytes(bytes)).Count);
        Assert.Equal(4, TrackReader.ReadHeader(new MemoryStream(bytes), ct: TestContext.Current.CancellationToken)!.Columns.Count);
    }

    [Fact]
    public void NULs_between_records_part_them()
    {
        var lines = "time,lat,lon\n1768671000,41.5,-99.5\n"u8.ToArray();
        var track = Recording.Good(Recording.ReadBytes([.. lines, .. new byte[200_000], .. "1768671009,41.6,-99.5\n"u8]));
        Assert.Equal([0, 9], track.TimeS);
        Assert.Equal(0, track.DroppedRecords);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(500_000)]
    public void Nothing_but_NULs_is_refused_for_what_it_is(int length) =>
        Assert.Contains("empty space", Recording.Bad(Recording.ReadBytes(new byte[length]), TrackProblemKind.Unreadable).Message);

    [Fact]
    public void UTF_16_keeps_the_NULs_that_are_halves_of_its_letters()
    {
        byte[] bytes = [.. Encoding.Unicode.GetPreamble(), .. Encoding.Unicode.GetBytes("time,lat,lon\n1768671000,41.5,-99.5\n")];
        Assert.Equal(41.5, Recording.Good(Recording.ReadBytes(bytes)).LatDeg[0]);
    }
}
