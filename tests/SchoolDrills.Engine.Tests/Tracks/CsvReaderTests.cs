using System.Text;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>
/// Layouts that recorders are known to write (common practice); factors are the international foot, nautical mile and statute mile.
/// </summary>
public partial class CsvReaderTests
{
    private const string At = "2026-01-17T17:30:00Z,41.5,-99.5";

    private static Track Csv(params string[] lines) => Recording.GoodText(string.Join('\n', lines) + "\n");

    private static void IsAt(Track track, double latDeg, double lonDeg, string utc, int index = 0)
    {
        Assert.Equal(latDeg, track.LatDeg[index], 6);
        Assert.Equal(lonDeg, track.LonDeg[index], 6);
        Assert.Equal(DateTimeOffset.Parse(utc, System.Globalization.CultureInfo.InvariantCulture), Recording.TimeOf(track, index));
    }

    [Fact]
    public void Every_column_of_a_recorder_is_found_and_reported()
    {
        var track = Recording.GoodFile("f10.csv");
        Assert.Equal(431, track.Count);
        Assert.Equal(3419, track.GpsAltitudeFt![0]);
        Assert.Equal(3172, track.PressureAltitudeFt![0]);
        Assert.Equal(3484, track.IndicatedAltitudeFt![0]);
        Assert.Equal(88.2, track.IndicatedAirspeedKt![0]);
        Assert.Equal(91.1, track.TrueAirspeedKt![0]);
        Assert.Equal(91.1, track.HeadingMagDeg![0]);
        Assert.Equal(-0.1, track.BankDeg![0]);
        Assert.Equal(1.6, track.PitchDeg![0]);
        Assert.Equal(-100, track.VerticalSpeedFpm![0]);
        Assert.Equal(85.2, track.GroundSpeedKt![0]);
        Assert.Equal(112.4, track.CourseTrueDeg![0]);
        Assert.Equal(1.5, track.OutsideAirTemperatureC![0]);
        Assert.Null(track.HeadingTrueDeg);
        Assert.Equal("indicated_alt_ft", track.Columns["indicatedAltitudeFt"]);
        Assert.Equal("utc", track.Columns["timeS"]);
        Assert.Equal(15, track.Columns.Count);
    }

    [Fact]
    public void The_second_layout_has_standard_pressure_altitude_and_the_altimeter_setting_and_no_indicated_altitude()
    {
        var track = Recording.GoodFile("f06-first-20-minutes.csv");
        IsAt(track, 41.045541, -99.469010, "2026-09-02T18:20:15Z");
        Assert.Equal(734.9, track.GpsAltitudeFt![0] * 0.3048, 9);
        Assert.Equal(2259, track.PressureAltitudeFt![0]);
        Assert.Equal(1021.3, track.AltimeterSettingHpa![0]);
        Assert.Null(track.IndicatedAltitudeFt);
        Assert.Equal(0.10 * 60 / 0.3048, track.VerticalSpeedFpm![0], 6);
        Assert.Equal(331, track.HeadingMagDeg![0]);
        Assert.Equal("baro_alt_ft_std", track.Columns["pressureAltitudeFt"]);
    }

    [Theory]
    [InlineData(",")]
    [InlineData(";")]
    [InlineData("\t")]
    [InlineData("|")]
    public void Any_usual_separator_splits_the_cells(string mark) =>
        IsAt(Csv($"time{mark}lat{mark}lon", At.Replace(",", mark)), 41.5, -99.5, "2026-01-17T17:30:00Z");

    [Fact]
    public void Decimal_commas_are_read_where_positions_have_them()
    {
        var track = Csv(
            "time;latitude;longitude;altitude (m)",
            "2026-01-17T17:30:00Z;41,531593;-99,474708;1801,7",
            "2026-01-17T17:30:01Z;41,531700;-99,474800;1802"
        );
        IsAt(track, 41.531593, -99.474708, "2026-01-17T17:30:00Z");
        Assert.Equal(1801.7, track.GpsAltitudeFt![0] * 0.3048, 9);
        Assert.Equal(1802, track.GpsAltitudeFt[1] * 0.3048, 9);
    }

    [Fact]
    public void Quoted_cells_with_decimal_commas_are_read() =>
        IsAt(
            Csv(
                "\"time\",\"lat\",\"lon\",\"note\"",
                "\"2026-01-17T17:30:00Z\",\"41,5\",\"-99,5\",\"say \"\"hi\"\", now\"",
                "\"2026-01-17T17:30:01Z\",\"41,6\",\"-99,5\",\"x\""
            ),
            41.6,
            -99.5,
            "2026-01-17T17:30:01Z",
            1
        );

    [Fact]
    public void The_header_may_be_below_comments_and_above_units_and_be_repeated()
    {
        var track = Csv(
            "sep=,",
            "# recorded by a test",
            "Aircraft,Trainer",
            "",
            "Time, Latitude , Longitude, Alt, IAS",
            "utc,deg,deg,m,km/h",
            At + ",304.8,185.2",
            "# pilot event",
            "",
            "Time,Latitude,Longitude,Alt,IAS",
            "utc,deg,deg,m,km/h",
            At + ",609.6,"
        );
        Assert.Equal(2, track.Count);
        Assert.Equal(0, track.DroppedRecords);
        Assert.Equal(1000, track.GpsAltitudeFt![0], 9);
        Assert.Equal(2000, track.GpsAltitudeFt[1], 9);
        Assert.Equal(100, track.IndicatedAirspeedKt![0], 9);
        Assert.True(double.IsNaN(track.IndicatedAirspeedKt[1]));
    }

    [Theory]
    [InlineData(49, true)]
    [InlineData(50, false)]
    public void The_header_is_looked_for_in_the_first_50_lines(int linesBefore, bool found) =>
        Assert.Equal(
            found,
            Recording.ReadText(string.Concat(Enumerable.Repeat("remark\n", linesBefore)) + "time,lat,lon\n" + At + "\n").Track is not null
        );

    [Theory]
    [InlineData("#")]
    [InlineData("%")]
    [InlineData("//")]
    [InlineData(";")]
    public void Comments_between_records_are_no_records(string mark) =>
        Assert.Equal(0, Csv("time,lat,lon", At, mark + " marker, pressed, here", At).DroppedRecords);

    [Theory]
    [InlineData("48.1173", "-11.516667")]
    [InlineData("48.1173N", "11.516667 W")]
    [InlineData("N48 07.038", "W011 31.000")]
    [InlineData("48°07.038'N", "11°31.000'W")]
    [InlineData("48:07:02.28 N", "011:31:00 W")]
    [InlineData("4807.038N", "01131.000W")]
    [InlineData("4807.038", "-1131.000")]
    public void Positions_come_in_many_forms(string lat, string lon) =>
        IsAt(Csv("time;lat;lon", $"2026-01-17T17:30:00Z;{lat};{lon}"), 48.1173, -11.516667, "2026-01-17T17:30:00Z");

    [Theory]
    [InlineData("48°60.000'N", "011 59 60.00 W")]
    [InlineData("4860.000N", "01160.000W")]
    public void A_full_degree_may_be_rounded_to_60(string lat, string lon) =>
        IsAt(Csv("time;lat;lon", $"2026-01-17T17:30:00Z;{lat};{lon}"), 49, -12, "2026-01-17T17:30:00Z");

    [Theory]
    [InlineData("time,lat,lon,ias_kt,", "")]
    [InlineData("time,lat,lon,ias_kt,", ",")]
    [InlineData("time,lat,lon,ias_kt,heading,", "")]
    public void A_header_that_ends_in_a_separator_costs_no_record(string header, string end)
    {
        var track = Csv(header, $"{At},90{end}", $"{At},91{end}");
        Assert.Equal([90, 91], track.IndicatedAirspeedKt!);
        Assert.Empty(track.Warnings);
        Assert.Equal(1, Csv(header, $"{At},90{end}", At).Count);
    }

    [Fact]
    public void Hemispheres_may_have_columns_of_their_own() =>
        IsAt(Csv("time,lat,N/S,lon,E/W", "2026-01-17T17:30:00Z,4807.038,S,01131.000,W"), -48.1173, -11.516667, "2026-01-17T17:30:00Z");

    [Theory]
    [InlineData("altitude_m", "304.8", "gpsAltitudeFt", 1000)]
    [InlineData("GPS Altitude [ft]", "1000", "gpsAltitudeFt", 1000)]
    [InlineData("Flight Level", "95", "pressureAltitudeFt", 9500)]
    [InlineData("pressure altitude (FL)", "FL095", "pressureAltitudeFt", 9500)]
    [InlineData("qnh altitude ft", "1234", "indicatedAltitudeFt", 1234)]
    [InlineData("baro alt (ft)", "1234", "indicatedAltitudeFt", 1234)]
    [InlineData("ias_kmh", "185.2", "indicatedAirspeedKt", 100)]
    [InlineData("IAS (mph)", "115.0779448", "indicatedAirspeedKt", 100)]
    [InlineData("airspeed m/s", "51.44444444", "indicatedAirspeedKt", 100)]
    [InlineData("True Airspeed (kt)", "100", "trueAirspeedKt", 100)]
    [InlineData("groundSpeedKt", "100", "groundSpeedKt", 100)]
    [InlineData("vario_ms", "5.08", "verticalSpeedFpm", 1000)]
    [InlineData("Vertical Speed (ft/min)", "1000", "verticalSpeedFpm", 1000)]
    [InlineData("rate_of_climb_fpm", "1000", "verticalSpeedFpm", 1000)]
    [InlineData("Heading True", "359", "headingTrueDeg", 359)]
    [InlineData("hdg", "-1", "headingMagDeg", 359)]
    [InlineData("QNH", "1013.25", "altimeterSettingHpa", 1013.25)]
    [InlineData("altimeter setting inHg", "29.92126", "altimeterSettingHpa", 1013.25)]
    [InlineData("Baro", "29.92126", "altimeterSettingHpa", 1013.25)]
    [InlineData("oat_f", "50", "outsideAirTemperatureC", 10)]
    [InlineData("bank_rad", "0.5235987756", "bankDeg", 30)]
    [InlineData("MagVar", "3.1", "magneticVariationDeg", 3.1)]
    [InlineData("mag_dev (deg)", "-356.9", "magneticVariationDeg", 3.1)]
    [InlineData("Magnetic Variation", "7.6 W", "magneticVariationDeg", -7.6)]
    public void Names_and_units_in_headers_are_understood(string header, string cell, string column, double expected)
    {
        var track = Csv("time;lat;lon;" + header, $"2026-01-17T17:30:00Z;41.5;-99.5;{cell}");
        Assert.Equal(header, track.Columns[column]);
        var values = (double[]?)typeof(Track).GetProperty(char.ToUpperInvariant(column[0]) + column[1..])!.GetValue(track);
        Assert.Equal(expected, Assert.Single(values!), 0.01);
    }

    [Theory]
    [InlineData("selected altitude ft")]
    [InlineData("heading bug")]
    [InlineData("wind speed kt")]
    [InlineData("AltAGL")]
    [InlineData("speed")]
    [InlineData("EGT1")]
    [InlineData("turn rate deg/s")]
    [InlineData("Magnetic Track")]
    [InlineData("MagVar E/W")]
    public void Columns_of_other_things_are_left_alone(string header) =>
        Assert.Equal(3, Csv("time;lat;lon;" + header, "2026-01-17T17:30:00Z;41.5;-99.5;50").Columns.Count);

    [Fact]
    public void Altitude_above_the_ellipsoid_is_recognized() =>
        Assert.True(Csv("time,lat,lon,height ellipsoid m", At + ",300").GpsAltitudeIsEllipsoidal);

    [Fact]
    public void Blanks_and_values_no_aircraft_has_are_missing()
    {
        var track = Csv("time,lat,lon,ias_kt,heading", At + ",90,10", At + ",,", At + ",--,n/a", At + ",-9999,720", At + ",NaN,∞");
        Assert.Equal([90, double.NaN, double.NaN, double.NaN, double.NaN], track.IndicatedAirspeedKt!);
        Assert.Equal([10, double.NaN, double.NaN, double.NaN, double.NaN], track.HeadingMagDeg!);
    }

    [Fact]
    public void Rows_without_a_position_or_time_are_counted_with_their_line()
    {
        var track = Csv(
            "time,lat,lon",
            At,
            "2026-01-17T17:30:01Z,-,-",
            "2026-01-17T17:30:02Z,95,10",
            "rubbish,41.5,-99.5",
            "2026-01-17T17:30:03Z",
            At
        );
        Assert.Equal(2, track.Count);
        Assert.Equal(4, track.DroppedRecords);
        Assert.Contains("line 3", Assert.Single(track.Warnings));
    }

    [Fact]
    public void Rows_out_of_order_and_doubled_stay_as_they_are() =>
        Assert.Equal(
            [0, 2, 1, 1],
            Csv("time,lat,lon", At, At.Replace(":00Z", ":02Z"), At.Replace(":00Z", ":01Z"), At.Replace(":00Z", ":01Z")).TimeS
        );

    [Fact]
    public void A_last_record_cut_in_a_number_is_excluded()
    {
        var whole = Encoding.UTF8.GetString(Recording.Bytes("f12.csv"));
        var track = Recording.GoodText(whole[..whole.IndexOf(",2801,", StringComparison.Ordinal)] + ",28");
        Assert.Equal(1, Recording.GoodText(whole[..whole.IndexOf("\n2026-11-05T20:10:07", StringComparison.Ordinal)][..^20]).Count);
        Assert.Equal(1, track.Count + track.DroppedRecords);
    }

    [Theory]
    [InlineData("\uFEFF", "\r\n")]
    [InlineData("", "\r\n")]
    [InlineData("", "\r")]
    public void Byte_order_marks_and_line_ends_do_not_matter(string mark, string lineEnd) =>
        Assert.Equal(2, Recording.GoodText(mark + string.Join(lineEnd, "time,lat,lon", At, At) + lineEnd).Count);

    [Fact]
    public void UTF_16_with_its_mark_is_read() =>
        Assert.Equal(
            1,
            Recording
                .Good(
                    Recording.ReadBytes([
                        .. Encoding.Unicode.GetPreamble(),
                        .. Encoding.Unicode.GetBytes($"time\tlat\tlon\n{At.Replace(',', '\t')}\n"),
                    ])
                )
                .Count
        );

    [Theory]
    [InlineData("time,lat,alt\n1,2,3\n", "longitude")]
    [InlineData("lat,lon,alt\n1,2,3\n", "time")]
    [InlineData("utc time,lat,lon\n17:30:00,41.5,-99.5\n", "date")]
    [InlineData("time,lat,lon\n", "no records")]
    [InlineData("time,lat,lon\n2026-01-17T17:30:00Z,x,y\n", "None of the 1 records")]
    public void What_is_missing_is_named(string text, string reason) =>
        Assert.Contains(reason, Recording.Bad(Recording.ReadText(text), TrackProblemKind.Unreadable).Message);

    [Fact]
    public void A_single_quotation_mark_damages_only_its_own_record()
    {
        var lines = Encoding.UTF8.GetString(Recording.Bytes("f12.csv")).Split('\n');
        lines[100] = lines[100].Replace(",-43", ",\"-43");
        var track = Recording.GoodText(string.Join('\n', lines));
        Assert.Equal(428, track.Count);
        Assert.Equal(1, track.DroppedRecords);
    }
}
