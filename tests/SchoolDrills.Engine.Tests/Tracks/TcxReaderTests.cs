using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Rules: the published schema of TCX, version 2, and its extension for activities.</summary>
public class TcxReaderTests
{
    private static string Tcx(string points) =>
        $"""
            <?xml version="1.0" encoding="UTF-8"?>
            <TrainingCenterDatabase xmlns="urn:tcx"><Activities>
            <Activity Sport="Other"><Id>2026-01-17T17:30:00Z</Id><Lap StartTime="2026-01-17T17:30:00Z">
            <TotalTimeSeconds>2</TotalTimeSeconds><Track>
            {points}
            </Track></Lap></Activity></Activities></TrainingCenterDatabase>
            """;

    private static string Point(string time, string more) => $"<Trackpoint><Time>{time}</Time>{more}</Trackpoint>";

    private const string Place = "<Position><LatitudeDegrees>-43.5</LatitudeDegrees><LongitudeDegrees>171.5</LongitudeDegrees></Position>";

    [Fact]
    public void Points_have_time_place_altitude_and_speed()
    {
        var track = Recording.GoodText(
            Tcx(
                Point("2026-01-17T17:30:00Z", Place + "<AltitudeMeters>304.8</AltitudeMeters>")
                    + Point(
                        "2026-01-18T06:30:01+13:00",
                        Place + "<Extensions><x:TPX xmlns:x=\"x\"><x:Speed>51.44444444</x:Speed></x:TPX></Extensions>"
                    )
            )
        );
        Assert.Equal("tcx", track.Format);
        Assert.Equal(new DateTimeOffset(2026, 1, 17, 17, 30, 0, TimeSpan.Zero), track.EpochUtc);
        Assert.Equal([0, 1], track.TimeS);
        Assert.Equal([-43.5, -43.5], track.LatDeg);
        Assert.Equal([171.5, 171.5], track.LonDeg);
        Assert.Equal(1000, track.GpsAltitudeFt![0], 9);
        Assert.Equal(100, track.GroundSpeedKt![1], 6);
        Assert.Empty(track.Warnings);
    }

    [Fact]
    public void Points_without_a_place_are_counted()
    {
        var track = Recording.GoodText(
            Tcx(Point("2026-01-17T17:30:00Z", "") + "<Trackpoint/>" + Point("x", Place) + Point("2026-01-17T17:30:03Z", Place))
        );
        Assert.Equal(1, track.Count);
        Assert.Equal(3, track.DroppedRecords);
    }

    [Theory]
    [InlineData("", "no track points")]
    [InlineData("<Trackpoint><Time>2026-01-17T17:30:00Z</Time></Trackpoint>", "None of the track points")]
    public void A_file_without_positions_is_refused(string points, string reason) =>
        Assert.Contains(reason, Recording.Bad(Recording.ReadText(Tcx(points)), TrackProblemKind.Unreadable).Message);
}
