using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>Columns called heading, bearing or track, told apart by what they do in a wind of 15 kt.</summary>
public class CsvDirectionCheckTests
{
    /// <summary>Variation 24° east, 14° west and 3° east.</summary>
    public static TheoryData<double, double> Places =>
        new()
        {
            { -43.73, 171.9 },
            { 44.5, -69.0 },
            { 41.5, -99.5 },
        };

    private static LoggedFlight Box(double latDeg, double lonDeg, double windKt = 15) => new(latDeg, lonDeg, windKt, 10, 100, 190, 280, 10);

    [Theory]
    [MemberData(nameof(Places))]
    public void A_heading_that_is_the_true_track_is_no_heading(double latDeg, double lonDeg)
    {
        foreach (var name in new[] { "heading", "bearing", "hdg" })
        {
            var track = Recording.GoodText(Box(latDeg, lonDeg).Csv((name, m => m.CourseTrueDeg)));
            Assert.Null(track.HeadingMagDeg);
            Assert.Null(track.HeadingTrueDeg);
            Assert.Equal(name, track.Columns["courseTrueDeg"]);
            Assert.Contains("taken as true ground track", Assert.Single(track.Warnings));
            Assert.Equal("courseTrueDeg", track.Header!.Columns[3].TakenAs);
        }
    }

    [Theory]
    [MemberData(nameof(Places))]
    public void A_heading_that_is_the_magnetic_track_is_turned_to_true_track(double latDeg, double lonDeg)
    {
        var flight = Box(latDeg, lonDeg);
        var track = Recording.GoodText(flight.Csv(("heading", m => flight.MagneticDeg(m.CourseTrueDeg))));
        var expected = Recording.GoodText(flight.Csv(("track true", m => m.CourseTrueDeg))).CourseTrueDeg!;
        Assert.Null(track.HeadingMagDeg);
        for (var i = 0; i < track.Count; i++)
            Assert.Equal(0, Angles.DifferenceDeg(track.CourseTrueDeg![i], expected[i]), 0.2);
        Assert.Contains("magnetic ground track", Assert.Single(track.Warnings));
    }

    [Theory]
    [MemberData(nameof(Places))]
    public void A_heading_that_drifts_from_the_course_is_the_heading(double latDeg, double lonDeg)
    {
        var flight = Box(latDeg, lonDeg);
        var track = Recording.GoodText(flight.Csv(("heading", m => flight.MagneticDeg(m.HeadingTrueDeg))));
        Assert.Equal(flight.MagneticDeg(10), track.HeadingMagDeg![5], 0.051);
        Assert.Null(track.CourseTrueDeg);
        Assert.Contains("as drift does", Assert.Single(track.Warnings));
    }

    [Theory]
    [InlineData(-43.73, 171.9)]
    [InlineData(44.5, -69.0)]
    public void A_heading_that_drifts_without_the_variation_is_the_true_heading(double latDeg, double lonDeg)
    {
        var track = Recording.GoodText(Box(latDeg, lonDeg).Csv(("heading", m => m.HeadingTrueDeg)));
        Assert.Equal(10, track.HeadingTrueDeg![5], 0.051);
        Assert.Null(track.HeadingMagDeg);
        Assert.Equal("headingTrueDeg", track.Header!.Columns[3].TakenAs);
        Assert.Contains("taken as true heading", Assert.Single(track.Warnings));
    }

    [Theory]
    [MemberData(nameof(Places))]
    public void A_track_that_keeps_the_variation_from_the_true_course_is_magnetic(double latDeg, double lonDeg)
    {
        var flight = Box(latDeg, lonDeg);
        foreach (var name in new[] { "TRK", "ground track", "trk (degT)" })
        {
            var magnetic = Recording.GoodText(flight.Csv((name, m => flight.MagneticDeg(m.CourseTrueDeg))));
            var right = Recording.GoodText(flight.Csv((name, m => m.CourseTrueDeg)));
            for (var i = 0; i < right.Count; i++)
                Assert.Equal(0, Angles.DifferenceDeg(magnetic.CourseTrueDeg![i], right.CourseTrueDeg![i]), 0.2);
            Assert.Contains("magnetic variation", Assert.Single(magnetic.Warnings));
            Assert.Empty(right.Warnings);
        }
    }

    [Fact]
    public void What_a_header_or_a_person_says_is_not_questioned()
    {
        var flight = Box(-43.73, 171.9);
        Assert.NotNull(Recording.GoodText(flight.Csv(("magnetic heading", m => m.CourseTrueDeg))).HeadingMagDeg);
        var options = new TrackReadOptions { ColumnMapping = new Dictionary<string, ColumnChoice> { ["headingMagDeg"] = new("heading") } };
        Assert.NotNull(Recording.GoodText(flight.Csv(("heading", m => m.CourseTrueDeg)), options).HeadingMagDeg);
    }

    [Fact]
    public void A_heading_that_is_the_track_beside_a_track_is_left_out()
    {
        var track = Recording.GoodText(Box(-43.73, 171.9).Csv(("track", m => m.CourseTrueDeg), ("heading", m => m.CourseTrueDeg)));
        Assert.Null(track.HeadingMagDeg);
        Assert.Equal("track", track.Columns["courseTrueDeg"]);
        Assert.Single(track.Warnings);
    }

    [Fact]
    public void Too_few_directions_leave_a_heading_a_heading_and_say_so()
    {
        var there = new LoggedFlight(-43.73, 171.9, 15, 10, 190);
        var track = Recording.GoodText(there.Csv(("heading", m => m.CourseTrueDeg)));
        Assert.NotNull(track.HeadingMagDeg);
        Assert.Contains("set it as courseTrueDeg", Assert.Single(track.Warnings));
        var options = new TrackReadOptions { ColumnMapping = new Dictionary<string, ColumnChoice> { ["courseTrueDeg"] = new("heading") } };
        var followed = Recording.GoodText(there.Csv(("heading", m => m.CourseTrueDeg)), options);
        Assert.Null(followed.HeadingMagDeg);
        Assert.NotNull(followed.CourseTrueDeg);
        Assert.Null(Recording.GoodText(there.Csv(("bearing", m => m.CourseTrueDeg))).HeadingMagDeg);
    }

    [Fact]
    public void A_bearing_to_a_place_is_neither()
    {
        var track = Recording.GoodText(Box(-43.73, 171.9).Csv(("bearing", _ => 45)));
        Assert.Null(track.HeadingMagDeg);
        Assert.Null(track.CourseTrueDeg);
        Assert.Contains("left out", Assert.Single(track.Warnings));
    }
}
