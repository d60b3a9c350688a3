using SchoolDrills.Accuracy.Flown;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Errors made on purpose by a simulated pilot are told as an instructor would tell them.</summary>
public sealed class ErrorsToldTests
{
    [Theory]
    [InlineData("timed-turns", 3, 1)]
    [InlineData("timed-turns", 5, 2)]
    [InlineData("box-circles", 3, 3)]
    [InlineData("box-circles", 11, 4)]
    [InlineData("racetrack", 3, 5)]
    public void A_turn_begun_to_the_wrong_side_begins_where_the_pilot_began_it(string slug, int segment, int seed)
    {
        var (lesson, report) = Flown(slug, new Mistake("wrong_way_turn", segment, 35, 1), seed);
        Assert.Contains(report.Findings, f => f.Kind == FindingKind.WrongDirection && f.SegmentIndex == segment);
        var startUtc = lesson.Utc(lesson.Drilled[segment].StartS);
        Assert.InRange((report.Segments[segment].StartUtc!.Value - startUtc).TotalSeconds, -4, 4);
    }

    [Fact]
    public void A_turn_to_the_wrong_side_that_takes_half_a_minute_is_no_other_flight()
    {
        var (lesson, report) = Flown("timed-turns", new Mistake("wrong_way_turn", 5, 40, 1), seed: 4, skill: 0.4);
        Assert.Contains(report.Findings, f => f is { Kind: FindingKind.WrongDirection, SegmentIndex: 5 });
        var startUtc = lesson.Utc(lesson.Drilled[5].StartS);
        Assert.InRange((report.Segments[5].StartUtc!.Value - startUtc).TotalSeconds, -4, 4);
        Assert.Equal(report.Segments[5].StartUtc, report.Segments[4].EndUtc);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(4)]
    public void A_reversal_forgotten_is_told_as_a_turn_the_wrong_way(int seed)
    {
        var (lesson, report) = Flown("turn-80-260", new Mistake("wrong_way_turn", 2, 30, 1), seed);
        Assert.Contains(report.Findings, f => f is { Kind: FindingKind.WrongDirection, SegmentIndex: 2 });
        var startUtc = lesson.Utc(lesson.Drilled[2].StartS);
        Assert.InRange((report.Segments[2].StartUtc!.Value - startUtc).TotalSeconds, -6, 6);
    }

    [Fact]
    public void A_circle_flown_the_other_way_is_told_in_one_sentence()
    {
        var (_, report) = Flown("timed-turns", new Mistake("wrong_way_turn", 5, double.PositiveInfinity, 1), seed: 3);
        Assert.Contains(report.Findings, f => f is { SegmentIndex: 5, Text: "Turned left instead of right." });
        Assert.DoesNotContain(report.Findings, f => f is { SegmentIndex: 5, Kind: FindingKind.RateLow or FindingKind.RateHigh });
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(2, -1)]
    [InlineData(3, 1)]
    public void A_last_level_off_at_the_wrong_altitude_does_not_move_the_entry(int seed, int sense)
    {
        var (lesson, report) = Flown("vertical-s-turning", new Mistake("level_off_error", 6, 220, sense), seed, altimeter: true);
        Assert.Equal(lesson.Drilled[0].Leg.AltitudeFt, report.Entry!.AltitudeFt, 1.0);
        Assert.Contains(
            report.Findings,
            f =>
                f
                    is {
                        SegmentIndex: 6 or 7,
                        Kind: FindingKind.AltitudeOvershoot or FindingKind.AltitudeUndershoot or FindingKind.AltitudeDrift
                    }
        );
    }

    [Theory]
    [InlineData(1, "late_start", FindingKind.LateStart)]
    [InlineData(2, "early_start", FindingKind.EarlyStart)]
    [InlineData(3, "late_start", FindingKind.LateStart)]
    public void The_length_of_the_only_straight_tells_when_it_was_ended(int seed, string kind, FindingKind told)
    {
        var (_, report) = Flown("teardrop-20", new Mistake(kind, 2, 13, kind == "late_start" ? 1 : -1), seed);
        Assert.Contains(report.Findings, f => f.Kind == told && f.SegmentIndex == 2);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void A_straight_that_opens_the_drill_is_not_late_while_nothing_shows_when_it_was_begun(int seed)
    {
        var (_, report) = Flown("racetrack", new Mistake("early_start", 3, 14, -1), seed);
        var start = Assert.Single(report.Findings, f => f.Kind is FindingKind.LateStart or FindingKind.EarlyStart);
        Assert.Equal((FindingKind.EarlyStart, 3), (start.Kind, start.SegmentIndex));
    }

    [Theory]
    [InlineData(2)]
    [InlineData(5)]
    [InlineData(8)]
    public void A_heading_far_off_at_the_end_of_a_short_straight_is_told(int seed)
    {
        var (_, report) = Flown("box-circles", new Mistake("heading_drift", 8, 24, 1), seed);
        Assert.Contains(report.Findings, f => f is { Kind: FindingKind.HeadingDrift, SegmentIndex: 8 });
    }

    [Fact]
    public void Every_finding_says_how_likely_it_is()
    {
        var (_, report) = Flown("timed-turns", new Mistake("heading_overshoot", 3, 30, 1), seed: 2);
        Assert.NotEmpty(report.Findings);
        Assert.All(report.Findings, f => Assert.InRange(f.Probability!.Value, 0.5, 1));
    }

    private static (Lesson Lesson, ScoreReport Report) Flown(
        string slug,
        Mistake mistake,
        int seed,
        bool altimeter = false,
        double skill = 0.8
    )
    {
        var lesson = new Lesson(seed, skill).Transit().Drill(slug, [mistake]).Home();
        var report = lesson.Report(slug, altimeter ? lesson.AirData() : null);
        Assert.True(report.Found);
        return (lesson, report);
    }
}
