using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>
/// The B records are published examples (FAI specification, appendix A, and its guides). Rules: FAI Technical Specification for
/// IGC-approved
/// GNSS Flight Recorders, appendix A, sections 3.3 (H), 3.4 (I), 4.1 (B), 7 (three-letter codes).
/// </summary>
public class IgcReaderTests
{
    private static Track Igc(params string[] lines) => Recording.GoodText("AXXXABC\r\n" + string.Join("\r\n", lines) + "\r\n");

    [Fact]
    public void Published_fixes_read_as_published()
    {
        var track = Igc("HFDTE160701", "B0941145152265N00032642WA0011500115", "B1101355206343N00006198WA0058700558");
        Assert.Equal(new DateTimeOffset(2001, 7, 16, 9, 41, 14, TimeSpan.Zero), Recording.TimeOf(track, 0));
        Assert.Equal(51.871083, track.LatDeg[0], 6);
        Assert.Equal(-0.544033, track.LonDeg[0], 6);
        Assert.Equal(new DateTimeOffset(2001, 7, 16, 11, 1, 35, TimeSpan.Zero), Recording.TimeOf(track, 1));
        Assert.Equal(52.105717, track.LatDeg[1], 6);
        Assert.Equal(-0.103300, track.LonDeg[1], 6);
        Assert.Equal(587, track.PressureAltitudeFt![1] * 0.3048, 9);
        Assert.Equal(558, track.GpsAltitudeFt![1] * 0.3048, 9);
        Assert.True(track.GpsAltitudeIsEllipsoidal);
    }

    [Theory]
    [InlineData("HFDTE010203")]
    [InlineData("HFDTEDATE:010203,01")]
    [InlineData("HFDTEDATE: 010203")]
    public void Both_forms_of_the_date_are_read(string date) =>
        Assert.Equal(new DateTimeOffset(2003, 2, 1, 9, 41, 14, TimeSpan.Zero), Igc(date, "B0941145152265N00032642WA0011500115").EpochUtc);

    [Fact]
    public void A_year_of_80_or_more_is_of_the_last_century() =>
        Assert.Equal(1994, Igc("HFDTE230394", "B0941145152265N00032642WA0011500115").EpochUtc.Year);

    [Fact]
    public void Satellite_altitude_is_above_the_geoid_where_the_header_says_so() =>
        Assert.False(Igc("HFDTE160701", "HFALGALTGPS:GEO", "B0941145152265N00032642WA0011500115").GpsAltitudeIsEllipsoidal);

    [Fact]
    public void A_fix_without_height_has_no_satellite_altitude()
    {
        var track = Igc("HFDTE160701", "B0941145152265N00032642WA0011500115", "B0941155152265N00032642WV0011500000");
        Assert.True(double.IsNaN(track.GpsAltitudeFt![1]));
        Assert.Equal(115, track.PressureAltitudeFt![1] * 0.3048, 9);
    }

    [Fact]
    public void Altitude_below_the_datum_is_negative() =>
        Assert.Equal(-12, Igc("HFDTE160701", "B0941145152265N00032642WA-001200115").PressureAltitudeFt![0] * 0.3048, 9);

    [Fact]
    public void A_recorder_without_a_pressure_sensor_has_no_pressure_altitude() =>
        Assert.Null(Igc("HFDTE160701", "B0941145152265N00032642WA0000000115", "B0941155152265N00032642WA0000000116").PressureAltitudeFt);

    [Fact]
    public void Extensions_refine_positions_and_times_and_add_speeds_and_headings()
    {
        // LAD and LOD continue the decimals of the minutes, TDS those of the second; 100 km/h = 100 / 1.852 kt.
        var track = Igc(
            "HFDTE160701",
            "I073637LAD3839LOD4042TDS4345GSP4648IAS4951HDM5254TRT",
            "B0941145152265N00032642WA00115001155025250100100093180"
        );
        Assert.Equal(51 + 52.26550 / 60, track.LatDeg[0], 10);
        Assert.Equal(-(0 + 32.64225 / 60), track.LonDeg[0], 10);
        Assert.Equal(250, track.EpochUtc.Millisecond);
        Assert.Equal(53.995680, track.GroundSpeedKt![0], 6);
        Assert.Equal(53.995680, track.IndicatedAirspeedKt![0], 6);
        Assert.Equal(93, track.HeadingMagDeg![0]);
        Assert.Equal(180, track.CourseTrueDeg![0]);
    }

    [Fact]
    public void The_day_after_midnight_follows_the_header_date()
    {
        var track = Igc(
            "HFDTE311226",
            "B2359595152265N00032642WA0011500115",
            "B0000015152265N00032642WA0011500115",
            "B2359585152265N00032642WA0011500115"
        );
        Assert.Equal([0, 2, -1], track.TimeS);
        Assert.Equal(2027, Recording.TimeOf(track, 1).Year);
    }

    [Fact]
    public void The_flight_across_midnight_has_no_jump()
    {
        var track = Recording.GoodFile("f07.igc.gz");
        Assert.Equal(Recording.GoodFile("f07.gpx.gz").TimeS, track.TimeS);
        Assert.Equal(15, Recording.TimeOf(track, track.Count - 1).Day);
    }

    [Fact]
    public void A_file_without_a_date_is_refused() =>
        Assert.Contains(
            "HFDTE",
            Recording.Bad(Recording.ReadText("AXXX\nB0941145152265N00032642WA0011500115\n"), TrackProblemKind.Unreadable).Message
        );

    [Fact]
    public void A_file_without_fixes_is_refused() =>
        Assert.Contains("B records", Recording.Bad(Recording.ReadText("AXXX\nHFDTE160701\n"), TrackProblemKind.Unreadable).Message);

    [Fact]
    public void A_full_degree_may_be_written_as_60_minutes()
    {
        var track = Igc("HFDTE160701", "B0941145160000N00060000WA0011500115", "B0941158960000S17960000EA0011500115");
        Assert.Equal([52, -90], track.LatDeg);
        Assert.Equal([-1, 180], track.LonDeg);
    }

    [Fact]
    public void A_minute_of_more_than_60_or_a_wrong_letter_is_no_position()
    {
        var track = Igc(
            "HFDTE160701",
            "B0941145160001N00032642WA0011500115",
            "B0941155152265X00032642WA0011500115",
            "B0941165152265N00032642WA0011500115"
        );
        Assert.Equal(1, track.Count);
        Assert.Equal(2, track.DroppedRecords);
    }
}
