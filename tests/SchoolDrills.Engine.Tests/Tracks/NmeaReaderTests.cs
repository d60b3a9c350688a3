using SchoolDrills.Engine.Tests.Reconstruction;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>The GGA and RMC sentences are the widely published examples of NMEA 0183, with their own checksums.</summary>
public class NmeaReaderTests
{
    private const string Gga = "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47";
    private const string Rmc = "$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A";

    private static Track Nmea(params string[] lines) => Recording.GoodText(string.Join("\r\n", lines) + "\r\n");

    /// <summary>Adds the checksum: the exclusive or of all between the marks, as two hexadecimal digits.</summary>
    private static string Sentence(string body) => $"${body}*{body.Aggregate(0, (sum, c) => sum ^ c):X2}";

    [Theory]
    [InlineData(Gga, Rmc)]
    [InlineData(Rmc, Gga)]
    public void Published_sentences_make_one_sample_in_either_order(string first, string second)
    {
        var track = Nmea(first, second);
        Assert.Equal(1, track.Count);
        Assert.Equal(new DateTimeOffset(1994, 3, 23, 12, 35, 19, TimeSpan.Zero), track.EpochUtc);
        Assert.Equal(48.117300, track.LatDeg[0], 6);
        Assert.Equal(11.516667, track.LonDeg[0], 6);
        Assert.Equal(545.4, track.GpsAltitudeFt![0] * 0.3048, 9);
        Assert.False(track.GpsAltitudeIsEllipsoidal);
        Assert.Equal(22.4, track.GroundSpeedKt![0]);
        Assert.Equal(84.4, track.CourseTrueDeg![0]);
        Assert.Equal(0, track.DroppedRecords);
    }

    [Theory]
    [InlineData("003.1,W", -3.1)]
    [InlineData("021.4,E,A", 21.4)]
    [InlineData("0.5,E", 0.5)]
    [InlineData("3.1,", null)]
    [InlineData(",W", null)]
    [InlineData(",,A", null)]
    [InlineData("3.1", null)]
    public void The_magnetic_variation_is_east_positive_and_needs_its_side(string fields, double? variationDeg)
    {
        var track = Nmea(Sentence($"GPRMC,101010,A,4343.5000,S,17155.2500,E,1,2,170126,{fields}"));
        Assert.Equal(variationDeg, track.MagneticVariationDeg?[0]);
    }

    [Fact]
    public void Outside_the_models_years_the_recorded_variation_is_the_declination()
    {
        static string Rmc(int s) => Sentence($"GPRMC,1010{s:00},A,4343.{5000 + (s * 250)},S,17155.2500,E,90.0,180.0,170132,12.3,W");
        var track = Nmea([.. Enumerable.Range(0, 20).Select(Rmc)]);
        Assert.Equal(-12.3, SyntheticFlight.Reconstruct(track).DeclinationDeg, 9);
    }

    [Fact]
    public void A_sentence_with_a_wrong_checksum_is_excluded_and_reported()
    {
        var track = Nmea(Rmc, Gga.Replace("545.4", "945.4"));
        Assert.Null(track.GpsAltitudeFt);
        Assert.Equal(1, track.DroppedRecords);
        Assert.Contains("line 2", Assert.Single(track.Warnings));
    }

    [Fact]
    public void Only_wrong_checksums_are_refused() =>
        Assert.Contains(
            "checksum",
            Recording.Bad(Recording.ReadText(Rmc.Replace("084.4", "085.4") + "\n"), TrackProblemKind.Unreadable).Message
        );

    [Theory]
    [InlineData("GN")]
    [InlineData("GL")]
    [InlineData("GA")]
    [InlineData("BD")]
    public void Any_talker_is_read(string talker)
    {
        var track = Nmea(Sentence($"{talker}RMC,101010.50,A,4343.5000,S,17155.2500,E,90.0,180.0,170126,,,A"));
        Assert.Equal(-(43 + 43.5 / 60), track.LatDeg[0], 10);
        Assert.Equal(171 + 55.25 / 60, track.LonDeg[0], 10);
        Assert.Equal(500, track.EpochUtc.Millisecond);
    }

    [Fact]
    public void Sentences_without_a_fix_make_no_sample()
    {
        var track = Nmea(
            Sentence("GPRMC,101009,V,,,,,,,170126,,"),
            Sentence("GPGGA,101009,,,,,0,00,,,M,,M,,"),
            Sentence("GPRMC,101010,A,4343.5000,S,17155.2500,E,,,170126,,"),
            Sentence("GPGGA,101010,4343.5000,S,17155.2500,E,1,05,1.1,,M,,M,,")
        );
        Assert.Equal(1, track.Count);
        Assert.Equal(1, track.DroppedRecords);
        Assert.Null(track.GroundSpeedKt);
        Assert.Null(track.GpsAltitudeFt);
    }

    [Fact]
    public void Sentences_with_unreadable_times_are_counted()
    {
        var track = Nmea(
            Sentence("GPRMC,,V,,,,,,,,,"),
            Sentence("GPRMC,101010,A,4343.5000,S,17155.2500,E,,,170126,,"),
            Sentence("GPRMC,10x011,A,4343.5000,S,17155.2500,E,,,170126,,"),
            Sentence("GPGGA,,4343.5000,S,17155.2500,E,1,05,1.1,,M,,M,,")
        );
        Assert.Equal(1, track.Count);
        Assert.Equal(2, track.DroppedRecords);
        Assert.Contains("2 records without a usable time and position were left out, the first at line 3", Assert.Single(track.Warnings));
    }

    [Fact]
    public void Only_unreadable_times_are_refused_for_what_they_are() =>
        Assert.Contains(
            "readable time",
            Recording
                .Bad(Recording.ReadText(Sentence("GPRMC,996611,A,4343.5000,S,17155.2500,E,,,170126,,") + "\n"), TrackProblemKind.Unreadable)
                .Message
        );

    [Fact]
    public void Midnight_passes_with_GGA_first()
    {
        var track = Nmea(
            Sentence("GPGGA,235959,4343.5,S,17155.2,E,1,08,0.9,545.4,M,46.9,M,,"),
            Sentence("GPRMC,235959,A,4343.5,S,17155.2,E,1,2,311226,,"),
            Sentence("GPGGA,000000,4343.5,S,17155.2,E,1,08,0.9,545.4,M,46.9,M,,"),
            Sentence("GPRMC,000000,A,4343.5,S,17155.2,E,1,2,010127,,"),
            Sentence("GPGGA,000001,4343.5,S,17155.2,E,1,08,0.9,545.4,M,46.9,M,,")
        );
        Assert.Equal([0, 1, 2], track.TimeS);
    }

    [Fact]
    public void ZDA_gives_the_date_too() =>
        Assert.Equal(
            new DateTimeOffset(2026, 7, 4, 20, 15, 30, TimeSpan.Zero),
            Nmea(
                Sentence("GPZDA,201530.00,04,07,2026,00,00"),
                Sentence("GPGGA,201530.00,4343.5,S,17155.2,E,1,08,0.9,545.4,M,46.9,M,,")
            ).EpochUtc
        );

    [Fact]
    public void Fixes_without_a_date_are_refused() =>
        Assert.Contains("no date", Recording.Bad(Recording.ReadText(Gga + "\n"), TrackProblemKind.Unreadable).Message);

    [Fact]
    public void A_log_that_begins_in_the_middle_of_a_sentence_and_has_its_own_stamps_is_read() =>
        Assert.Equal(1, Nmea("7.038,N,01131.000,E,1,08*11", "12:35:19.22 " + Gga, "12:35:19.30 " + Rmc).Count);

    [Fact]
    public void A_sentence_cut_before_its_checksum_is_damaged_where_others_have_one()
    {
        var track = Nmea(Rmc, Gga[..40]);
        Assert.Equal(1, track.Count);
        Assert.Equal(1, track.DroppedRecords);
    }
}
