using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Dates and times of CSV recordings.</summary>
public partial class CsvReaderTests
{
    [Fact]
    public void A_commented_units_row_above_the_header_local_time_and_offsets_are_read()
    {
        var track = Csv(
            "#recorder_info,version=1.0",
            "#yyyy-mm-dd, hh:mm:ss, hh:mm, degrees, degrees, ft Baro, inch, ft msl, deg C, kt, kt, fpm, deg, deg, deg, degT, ft wgs, kt",
            "  Lcl Date, Lcl Time, UTCOfst, Latitude, Longitude, AltInd, BaroA, AltMSL, OAT, IAS, GndSpd, "
                + "VSpd, Pitch, Roll, HDG, TRK, AltGPS, TAS",
            "          ,         ,        ,         ,          ,       ,      ,       ,    ,    ,       ,    "
                + " ,      ,     ,    ,    ,       ,   ",
            "2026-01-17, 11:30:00, -06:00, 41.5000000, -99.5000000, 3000.4, 29.92, 2990.1, 12.5, 90.1, 95.2, "
                + "-100.5, 1.2, -3.4, 91.0, 97.5, 2915.0, 93.0"
        );
        IsAt(track, 41.5, -99.5, "2026-01-17T17:30:00Z");
        Assert.Equal(3000.4, track.IndicatedAltitudeFt![0]);
        // 29.92 inHg of 33.86389 hPa.
        Assert.Equal(1013.2, track.AltimeterSettingHpa![0], 1);
        Assert.Equal(2990.1, track.GpsAltitudeFt![0]);
        Assert.False(track.GpsAltitudeIsEllipsoidal);
        Assert.Equal(12.5, track.OutsideAirTemperatureC![0]);
        Assert.Equal(90.1, track.IndicatedAirspeedKt![0]);
        Assert.Equal(93.0, track.TrueAirspeedKt![0]);
        Assert.Equal(95.2, track.GroundSpeedKt![0]);
        Assert.Equal(-100.5, track.VerticalSpeedFpm![0]);
        Assert.Equal(-3.4, track.BankDeg![0]);
        Assert.Equal(91, track.HeadingMagDeg![0]);
        Assert.Equal(97.5, track.CourseTrueDeg![0]);
        Assert.Equal("Lcl Date", track.Columns["date"]);
        Assert.Equal("UTCOfst", track.Columns["utcOffset"]);
        Assert.Equal(0, track.DroppedRecords);
    }

    [Theory]
    [InlineData("+13:00", "2026-01-17T17:30:00Z")]
    [InlineData("13", "2026-01-17T17:30:00Z")]
    [InlineData("+1300", "2026-01-17T17:30:00Z")]
    [InlineData("-06:30", "2026-01-18T13:00:00Z")]
    [InlineData("5.5", "2026-01-18T01:00:00Z")]
    public void Local_time_is_ahead_of_UTC_by_the_offset(string offset, string utc) =>
        IsAt(Csv("local date,local time,utc offset,lat,lon", $"2026-01-18,06:30:00,{offset},41.5,-99.5"), 41.5, -99.5, utc);

    [Theory]
    [InlineData("time", "1768671000")]
    [InlineData("epoch_s", "1768671000.000")]
    [InlineData("time_ms", "1768671000000")]
    [InlineData("timestamp", "1768671000000000")]
    [InlineData("utc", "2026-01-17 17:30:00")]
    [InlineData("utc", "2026/01/17 17:30")]
    [InlineData("datetime utc", "17/01/2026 17:30:00")]
    [InlineData("datetime utc", "01/17/2026 5:30:00 PM")]
    [InlineData("datetime utc", "17.01.2026 17:30:00")]
    [InlineData("utc", "20260117173000")]
    [InlineData("time", "2026-01-18T06:30:00+13:00")]
    [InlineData("date", "2026-01-17T17:30:00Z")]
    public void One_column_has_the_whole_time(string name, string time) =>
        // 1768671000 s after 1970-01-01 is 2026-01-17 17:30:00 UTC (date -u -d @1768671000).
        IsAt(Csv(name + ",lat,lon", time + ",41.5,-99.5"), 41.5, -99.5, "2026-01-17T17:30:00Z");

    [Theory]
    [InlineData("2026-01-17", "17:30:00.5")]
    [InlineData("20260117", "173000.5")]
    [InlineData("17/01/26", "5:30:00.5 pm")]
    [InlineData("17.1.2026", "17:30:00,5")]
    public void Date_and_time_may_be_in_separate_columns(string date, string time) =>
        IsAt(Csv("date_utc;time_utc;lat;lon", $"{date};{time};41.5;-99.5"), 41.5, -99.5, "2026-01-17T17:30:00.5Z");

    [Fact]
    public void Ambiguous_dates_are_reported() =>
        Assert.Contains(Csv("date,utc time,lat,lon", "03/04/2026,17:30:00,41.5,-99.5").Warnings, w => w.Contains("day first"));
}
