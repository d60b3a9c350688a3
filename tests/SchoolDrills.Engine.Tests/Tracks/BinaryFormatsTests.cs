using System.Text;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Files that are known not to be text, by the first bytes that their specifications give them.</summary>
public class BinaryFormatsTests
{
    [Theory]
    [InlineData("0E10D90700000000 2E464954", "FIT")]
    [InlineData("0C10D90700000000 2E464954", "FIT")]
    [InlineData("554C6F6701123501", "ULog")]
    [InlineData("255044462D312E37", "PDF")]
    [InlineData("FFD8FFE000104A46", "JPEG")]
    [InlineData("89504E470D0A1A0A", "PNG")]
    [InlineData("0000001866747970", "film")]
    [InlineData("53514C69746520666F726D6174203300", "database")]
    [InlineData("377ABCAF271C", "7z")]
    public void Known_binary_formats_are_refused_by_name(string hex, string name)
    {
        byte[] bytes = [.. Convert.FromHexString(hex.Replace(" ", "")), .. new byte[4000]];
        var message = Recording.Bad(Recording.ReadBytes(bytes), TrackProblemKind.UnknownFormat).Message;
        Assert.Contains(name, message);
        Assert.Contains("export as GPX", message);
    }

    [Fact]
    public void An_office_document_is_refused_as_one()
    {
        var packed = Recording.Zipped(("[Content_Types].xml", "<Types/>"u8.ToArray()), ("xl/workbook.xml", "<workbook/>"u8.ToArray()));
        Assert.Contains("save its table as CSV", Recording.Bad(Recording.ReadBytes(packed), TrackProblemKind.Unreadable).Message);
    }

    [Fact]
    public void Sentences_among_binary_messages_of_the_receiver_are_read()
    {
        var random = new Random(20261127);
        var log = new List<byte>();
        foreach (var line in Encoding.ASCII.GetString(Recording.Bytes("f13.nmea")).TrimEnd().Split('\n'))
        {
            log.AddRange(Encoding.ASCII.GetBytes(line + "\n"));
            // Two bytes of sync, class, id and length, any bytes, two of checksum.
            var payload = new byte[random.Next(8, 400)];
            random.NextBytes(payload);
            log.AddRange([0xB5, 0x62, 0x01, 0x07, (byte)payload.Length, (byte)(payload.Length >> 8), .. payload, 1, 2]);
        }
        var expected = Recording.GoodFile("f13.nmea");
        var track = Recording.Good(Recording.ReadBytes([.. log]));
        Assert.Equal(expected.TimeS, track.TimeS);
        Assert.Equal(expected.LatDeg, track.LatDeg);
        Assert.Equal(expected.GpsAltitudeFt, track.GpsAltitudeFt);
        Assert.Equal("nmea", track.Format);
    }
}
