using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Layouts that loggers and exports write besides the usual one; 304.8 m are 1,000 ft, 185.2 km/h are 100 kt.</summary>
public class CsvLayoutTests
{
    private static readonly DateTimeOffset At = new(2026, 1, 17, 17, 30, 0, TimeSpan.Zero);

    private static Track Csv(params string[] lines) => Recording.GoodText(string.Join('\n', lines) + "\n");

    private static void IsAt(Track track, double latDeg, double lonDeg)
    {
        Assert.Equal(latDeg, track.LatDeg[0], 6);
        Assert.Equal(lonDeg, track.LonDeg[0], 6);
        Assert.Equal(At, track.EpochUtc);
        Assert.Equal(0, track.DroppedRecords);
    }

    [Theory]
    [InlineData("position", "\"41.5,-99.5\"")]
    [InlineData("Location", "\"(41.5, -99.5)\"")]
    [InlineData("latlon", "41.5 -99.5")]
    [InlineData("GPS Position", "41.5/-99.5")]
    [InlineData("coordinates", "41.5;-99.5")]
    [InlineData("Lat/Lon", "41.5N 99.5W")]
    [InlineData("pos", "N41 30.000 W099 30.000")]
    [InlineData("pos", "41°30.000'N 99°30.000'W")]
    [InlineData("lon/lat", "\"-99.5,41.5\"")]
    [InlineData("coordinates", "\"-99.5,41.5\"")]
    [InlineData("pos", "\"41,5 -99,5\"")]
    public void Latitude_and_longitude_may_share_a_cell(string header, string cell)
    {
        var track = Csv($"time,{header},alt ft", $"2026-01-17T17:30:00Z,{cell},1000", $"2026-01-17T17:30:01Z,{cell},1001");
        IsAt(track, 41.5, -99.5);
        Assert.Equal([1000, 1001], track.GpsAltitudeFt!);
        Assert.Equal(["timeS", "latDeg", "gpsAltitudeFt"], track.Header!.Columns.Select(c => c.TakenAs));
        Assert.Equal(header, track.Columns["lonDeg"]);
    }

    [Fact]
    public void A_shared_column_can_be_chosen_by_hand_for_both_or_either()
    {
        const string Text = "time,where,position\n2026-01-17T17:30:00Z,\"41.5,-99.5\",\"1,2\"\n";
        var where = new ColumnChoice("where");
        IsAt(Recording.GoodText(Text, Mapping(("latDeg", where), ("lonDeg", where))), 41.5, -99.5);
        IsAt(
            Recording.GoodText(Text.Replace("position", "x").Replace("where", "location"), Mapping(("latDeg", new("location")))),
            41.5,
            -99.5
        );
        var three = Recording.ReadText(Text, Mapping(("latDeg", where), ("lonDeg", where), ("timeS", where)));
        Assert.Contains("both", Recording.Bad(three, TrackProblemKind.Unreadable).Message);
    }

    [Fact]
    public void A_column_of_other_positions_is_none_where_latitude_and_longitude_have_their_own() =>
        IsAt(Csv("time,position,lat,lon", "2026-01-17T17:30:00Z,7,41.5,-99.5"), 41.5, -99.5);

    [Theory]
    [InlineData("Latitude N,Longitude W", "41.5", "99.5")]
    [InlineData("Latitude [N],Longitude [W]", "41.5", "99.5")]
    [InlineData("lat_n,lon_e", "41.5", "-99.5")]
    [InlineData("Latitude N/S,Longitude E/W", "41.5N", "99.5W")]
    [InlineData("Latitude N/S,Longitude E/W", "4130.000N", "09930.000W")]
    public void The_side_may_stand_in_the_header_or_behind_the_number(string header, string lat, string lon) =>
        IsAt(Csv("time," + header, $"2026-01-17T17:30:00Z,{lat},{lon}"), 41.5, -99.5);

    [Theory]
    [InlineData("LATITUDE,NS,LONGITUDE,EW")]
    [InlineData("lat,lat hemi,lon,lon hemi")]
    [InlineData("lat,lat dir,lon,lon dir")]
    public void The_side_may_have_a_column_of_its_own(string header) =>
        IsAt(Csv("time," + header, "2026-01-17T17:30:00Z,41.5,N,99.5,W"), 41.5, -99.5);

    [Theory]
    [InlineData("date", "260117", true)]
    [InlineData("date (yymmdd)", "260117", false)]
    [InlineData("date [ddmmyy]", "170126", false)]
    [InlineData("utc_d", "20260117", false)]
    [InlineData("utc_d", "2026-01-17", false)]
    public void Dates_of_six_digits_are_read(string header, string date, bool open)
    {
        var track = Csv($"{header},utc_t,lat,lon", $"{date},173000,41.5,-99.5");
        IsAt(track, 41.5, -99.5);
        Assert.Equal(open, track.Warnings.Any(w => w.Contains("year first")));
    }

    [Fact]
    public void Dates_that_have_no_meaning_with_the_year_first_have_the_year_last()
    {
        var track = Csv("date,utc time,lat,lon", "310195,173000,41.5,-99.5", "310195,173001,41.5,-99.5");
        Assert.Equal(31, track.EpochUtc.Day);
        Assert.Empty(track.Warnings);
    }

    [Theory]
    [InlineData("1768671000")]
    [InlineData("1768671000.0")]
    [InlineData("1768671000000")]
    [InlineData("1768671000000000")]
    [InlineData("1768671000000000000")]
    public void Time_since_1970_is_read_by_its_size(string time) => IsAt(Csv("t_utc,lat,lon", $"{time},41.5,-99.5"), 41.5, -99.5);

    [Fact]
    public void Cells_may_bear_their_units()
    {
        var track = Csv(
            "time,lat,lon,altitude,ground speed,heading,oat",
            "2026-01-17T17:30:00Z,41.5,-99.5,304.8 m,185.2 km/h,90 deg,50 °F",
            "2026-01-17T17:30:01Z,41.5,-99.5,609.6m,0.5 km/h,91°,10 °C"
        );
        IsAt(track, 41.5, -99.5);
        Assert.Equal([1000, 2000], track.GpsAltitudeFt!, (a, b) => Math.Abs(a - b) < 1e-9);
        Assert.Equal([100, 0.5 / 1.852], track.GroundSpeedKt!, (a, b) => Math.Abs(a - b) < 1e-9);
        Assert.Equal([10, 10], track.OutsideAirTemperatureC!);
        Assert.Equal("m", track.Header!.Columns[3].Unit);
        Assert.DoesNotContain(track.Warnings, w => w.Contains("altitude"));
    }

    [Fact]
    public void Second_header_rows_and_units_below_them_are_no_lost_records()
    {
        var track = Csv(
            "Date,UTC Time,Latitude,Longitude,GPS Altitude,Indicated Airspeed",
            "Day,UTC,Lat,Lon,AltGPS,IAS",
            "yyyy-mm-dd,hh:mm:ss,deg,deg,m,km/h",
            "2026-01-17,17:30:00,41.5,-99.5,304.8,185.2",
            "2026-01-17,17:30:01,x,y,304.8,185.2"
        );
        Assert.Equal(1, track.DroppedRecords);
        Assert.Equal(1000, track.GpsAltitudeFt![0], 9);
        Assert.Equal(100, track.IndicatedAirspeedKt![0], 9);
        Assert.Equal(At, track.EpochUtc);
    }

    [Theory]
    [InlineData("43°30'00.0\"S,171°30'00.0\"E")]
    [InlineData("\"43°30'00.0\"\"S\",\"171°30'00.0\"\"E\"")]
    public void Seconds_of_arc_are_no_quotes_of_cells(string cells) =>
        IsAt(Csv("time,lat,lon", $"2026-01-17T17:30:00Z,{cells}", $"2026-01-17T17:30:01Z,{cells}"), -43.5, 171.5);

    [Fact]
    public void Height_above_the_place_of_takeoff_is_no_altitude() =>
        Assert.Null(Csv("time,lat,lon,height_above_takeoff(feet)", "2026-01-17T17:30:00Z,41.5,-99.5,100").GpsAltitudeFt);

    [Fact]
    public void A_record_of_dashes_is_no_row_of_units()
    {
        var track = Csv("time,lat,lon,ias kt,bank", "2026-01-17T17:29:59Z,-,-,-,-", $"2026-01-17T17:30:00Z,41.5,-99.5,90,3");
        Assert.Equal(1, track.DroppedRecords);
        Assert.Equal([3], track.BankDeg!);
        Assert.Equal([90], track.IndicatedAirspeedKt!);
    }

    [Fact]
    public void A_row_of_units_may_have_dashes_for_what_has_none()
    {
        var track = Csv("time,lat,lon,ias,bank", "-,-,-,km/h,deg", "2026-01-17T17:30:00Z,41.5,-99.5,185.2,3");
        Assert.Equal([3], track.BankDeg!);
        Assert.Equal(100, track.IndicatedAirspeedKt![0], 9);
        Assert.Equal(0, track.DroppedRecords);
    }

    private static TrackReadOptions Mapping(params (string Quantity, ColumnChoice Choice)[] choices) =>
        new() { ColumnMapping = choices.ToDictionary(c => c.Quantity, c => c.Choice) };
}
