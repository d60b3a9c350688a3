using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>One flight in several formats is one flight, to the last digit that each format writes.</summary>
public class SameFlightTests
{
    [Theory]
    // IGC: thousandths of minutes, metres. NMEA: ten-thousandths of minutes, tenths of metres. CSV: 1e-6 degrees, feet. KML: as GPX.
    [InlineData("f14.gpx.gz", "f14.igc.gz", 0.0005 / 60, 0.5 / 0.3048)]
    [InlineData("f13.gpx", "f13.nmea", 0.00005 / 60, 0.06 / 0.3048)]
    [InlineData("f13.gpx", "f13.csv", 0.0000005, 0.7)]
    [InlineData("f10.gpx", "f10.csv", 0.0000005, 0.7)]
    [InlineData("f12.gpx", "f12.csv", 0.0000005, 0.7)]
    [InlineData("f01.gpx", "f01.kml", 0, 0.0001)]
    public void The_same_fixes_are_read(string one, string other, double resolutionDeg, double resolutionFt)
    {
        var a = Recording.GoodFile(one);
        var b = Recording.GoodFile(other);
        Assert.Equal(a.EpochUtc, b.EpochUtc);
        Assert.Equal(a.TimeS, b.TimeS);
        for (var i = 0; i < a.Count; i++)
        {
            Assert.Equal(a.LatDeg[i], b.LatDeg[i], resolutionDeg + 6e-8);
            Assert.Equal(a.LonDeg[i], b.LonDeg[i], resolutionDeg + 6e-8);
            Assert.Equal(a.GpsAltitudeFt![i], b.GpsAltitudeFt![i], resolutionFt + 0.17);
        }
    }

    public static TheoryData<string, string> Written
    {
        get
        {
            var data = new TheoryData<string, string>();
            foreach (var name in new[] { "f13.gpx", "f07.gpx.gz", "f12.gpx" })
            {
                foreach (var layout in Layouts.All.Keys)
                    data.Add(name, layout);
            }
            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Written))]
    public void Written_in_another_layout_a_flight_reads_the_same(string name, string layout)
    {
        var a = Recording.GoodFile(name);
        var b = Recording.Good(Recording.ReadBytes(Layouts.Write(layout, a)));
        Assert.Equal(a.EpochUtc, b.EpochUtc);
        Assert.Equal(a.TimeS, b.TimeS);
        Assert.Equal(0, b.DroppedRecords);
        for (var i = 0; i < a.Count; i++)
        {
            Assert.Equal(a.LatDeg[i], b.LatDeg[i], Layouts.All[layout] + 1e-9);
            Assert.Equal(a.LonDeg[i], b.LonDeg[i], Layouts.All[layout] + 1e-9);
            // Half of a hundredth of a metre, or of a tenth of a foot.
            Assert.Equal(a.GpsAltitudeFt![i], b.GpsAltitudeFt![i], 0.051);
        }
    }
}
