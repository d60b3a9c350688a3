using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Rules: OGC KML 2.3 (OGC 12-007r2), Track, TimeStamp, altitudeMode.</summary>
public class KmlReaderTests
{
    private static string Kml(string inner) =>
        $"""
            <?xml version="1.0" encoding="UTF-8"?>
            <kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2">
            <Document><Placemark>{inner}</Placemark></Document></kml>
            """;

    [Theory]
    [InlineData(
        "<when>2026-01-17T17:30:00Z</when><when>2026-01-17T17:30:01Z</when><gx:coord>171.5 -43.5 "
            + "304.8</gx:coord><gx:coord>171.6 -43.6 609.6</gx:coord>"
    )]
    [InlineData(
        "<when>2026-01-17T17:30:00Z</when><gx:coord>171.5 -43.5 "
            + "304.8</gx:coord><when>2026-01-17T17:30:01Z</when><gx:coord>171.6 -43.6 609.6</gx:coord>"
    )]
    public void Times_and_places_pair_in_their_order(string lists)
    {
        var track = Recording.GoodText(Kml($"<gx:Track><altitudeMode>absolute</altitudeMode>{lists}</gx:Track>"));
        Assert.Equal([0, 1], track.TimeS);
        Assert.Equal([-43.5, -43.6], track.LatDeg);
        Assert.Equal([171.5, 171.6], track.LonDeg);
        Assert.Equal(1000, track.GpsAltitudeFt![0], 9);
        Assert.Equal(2000, track.GpsAltitudeFt[1], 9);
    }

    [Fact]
    public void A_missing_place_drops_only_its_own_sample()
    {
        var track = Recording.GoodText(
            Kml(
                "<gx:Track><when>2026-01-17T17:30:00Z</when><when>2026-01-17T17:30:01Z</when><when>"
                    + "2026-01-17T17:30:02Z</when><gx:coord>171.5 -43.5 300</gx:coord><gx:coord/><gx:coord>171.7 "
                    + "-43.7 300</gx:coord></gx:Track>"
            )
        );
        Assert.Equal([0, 2], track.TimeS);
        Assert.Equal([-43.5, -43.7], track.LatDeg);
        Assert.Equal(1, track.DroppedRecords);
    }

    [Fact]
    public void Counts_that_differ_are_refused() =>
        Assert.Contains(
            "2 times for 1 positions",
            Recording
                .Bad(
                    Recording.ReadText(
                        Kml(
                            "<gx:Track><when>2026-01-17T17:30:00Z</when><when>2026-01-17T17:30:01Z</when><gx:coord>"
                                + "171.5 -43.5 300</gx:coord></gx:Track>"
                        )
                    ),
                    TrackProblemKind.Unreadable
                )
                .Message
        );

    [Fact]
    public void A_truncated_track_is_used_as_far_as_it_has_pairs()
    {
        var text = System.Text.Encoding.UTF8.GetString(Recording.Bytes("f01.kml"));
        var track = Recording.GoodText(text[..(text.Length - 20_000)]);
        Assert.InRange(track.Count, 300, 848);
        Assert.Equal(Recording.GoodFile("f01.kml").LatDeg[..track.Count], track.LatDeg);
        Assert.NotEmpty(track.Warnings);
    }

    [Fact]
    public void Placemarks_with_time_stamps_are_samples()
    {
        var track = Recording.GoodText(
            Kml(
                """
                <TimeStamp><when>2026-01-17T17:30:00Z</when></TimeStamp>
                <Point><coordinates>171.5,-43.5,304.8</coordinates></Point></Placemark>
                <Placemark><name>no time</name><Point><coordinates>1,2,3</coordinates></Point></Placemark>
                <Placemark><Point><coordinates>171.6,-43.6</coordinates></Point><TimeStamp><when>2026-01-17T17:30:05Z</when></TimeStamp>
                """
            )
        );
        Assert.Equal([0, 5], track.TimeS);
        Assert.Equal([171.5, 171.6], track.LonDeg);
        Assert.Equal(1000, track.GpsAltitudeFt![0], 9);
        Assert.True(double.IsNaN(track.GpsAltitudeFt[1]));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Placemarks_beside_a_track_are_waypoints(bool before)
    {
        const string Track =
            "<gx:Track><when>2026-01-17T17:30:00Z</when><when>2026-01-17T17:30:01Z</when><gx:coord>171.5 -43.5 "
            + "300</gx:coord><gx:coord>171.6 -43.6 300</gx:coord></gx:Track>";
        const string Waypoint = "<TimeStamp><when>2026-01-17T12:00:00Z</when></TimeStamp><Point><coordinates>1,2,3</coordinates></Point>";
        const string Next = "</Placemark><Placemark>";
        var track = Recording.GoodText(Kml(before ? Waypoint + Next + Track : Track + Next + Waypoint + Next + Waypoint));
        Assert.Equal([0, 1], track.TimeS);
        Assert.Equal([-43.5, -43.6], track.LatDeg);
        Assert.Contains(before ? "1 placemark " : "2 placemarks", Assert.Single(track.Warnings));
        Assert.Equal(0, track.DroppedRecords);
    }

    [Theory]
    [InlineData("<gx:Track/>", 0)]
    [InlineData("<gx:Track></gx:Track>", 0)]
    [InlineData("<gx:Track><when>2026-01-17T17:00:00Z</when><when>2026-01-17T17:00:01Z</when></gx:Track>", 2)]
    [InlineData("<gx:Track><gx:coord>1 2 3</gx:coord></gx:Track>", 1)]
    public void A_track_with_nothing_to_pair_does_not_cost_the_others(string empty, int lost)
    {
        var track = Recording.GoodText(
            Kml(
                $"<gx:MultiTrack>{empty}<gx:Track><when>2026-01-17T17:30:00Z</when><gx:coord>171.5 -43.5 "
                    + $"300</gx:coord></gx:Track>{empty}</gx:MultiTrack>"
            )
        );
        Assert.Equal([-43.5], track.LatDeg);
        Assert.Equal(2 * lost, track.DroppedRecords);
    }

    [Fact]
    public void Heights_above_ground_are_not_taken_as_altitudes()
    {
        var track = Recording.GoodText(
            Kml(
                "<gx:Track><altitudeMode>relativeToGround</altitudeMode><when>2026-01-17T17:30:00Z</when><gx:coord>"
                    + "171.5 -43.5 300</gx:coord></gx:Track>"
            )
        );
        Assert.Null(track.GpsAltitudeFt);
        Assert.Contains("above ground", Assert.Single(track.Warnings));
    }

    [Fact]
    public void A_path_without_times_is_refused_with_the_reason() =>
        Assert.Contains(
            "without times",
            Recording
                .Bad(
                    Recording.ReadText(Kml("<LineString><coordinates>171.5,-43.5,1 171.6,-43.6,1</coordinates></LineString>")),
                    TrackProblemKind.Unreadable
                )
                .Message
        );
}
