using SchoolDrills.Accuracy.Flown;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

public sealed class GivenUpTests
{
    /// <summary>Twenty-five seconds into its tenth segment, a climbing circle to the right.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void A_drill_given_up_in_its_tenth_segment_is_not_finished_on_the_way_home(int seed)
    {
        var lesson = new Lesson(seed, skill: 0.6).Transit().Drill("box-circles", [new Mistake("abort", 9, 25, 1)]).Home();
        var report = lesson.Report("box-circles");
        lesson.AssertToldAsFlown(report, worstS: 10);
        Assert.All(report.Segments.Take(9), s => Assert.Equal(SegmentStatus.Flown, s.Status));
        Assert.All(report.Segments.Skip(10), s => Assert.Equal(SegmentStatus.Skipped, s.Status));
        Assert.True(Assert.Single(report.Runs).GivenUp);
        Assert.Contains(report.Findings, f => f is { Kind: FindingKind.Aborted, SegmentIndex: 9 });
        Assert.InRange((report.EndUtc!.Value - lesson.Utc(lesson.Drilled[^1].EndS)).TotalSeconds, -5, 12);
    }

    /// <summary>The way home begins with a turn to the side of the circle that was given up.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void The_turn_for_home_is_no_part_of_the_turn_that_was_given_up(int seed)
    {
        var lesson = new Lesson(seed, skill: 0.6).Transit().Drill("timed-turns", [new Mistake("abort", 5, 40, 1)]);
        lesson.Straight(40).Turn(110).Straight(90).Climb(-800);
        var report = lesson.Report("timed-turns");
        lesson.AssertToldAsFlown(report, worstS: 6);
        Assert.Equal(SegmentStatus.Partial, report.Segments[5].Status);
        Assert.InRange((report.EndUtc!.Value - lesson.Utc(lesson.Drilled[^1].EndS)).TotalSeconds, -5, 12);
    }

    /// <summary>He turns for home at once. Whether he meant to fly the straight first is not to be seen.</summary>
    [Theory]
    [InlineData("timed-turns", 1)]
    [InlineData("racetrack", 2)]
    [InlineData("rate-climbs", 3)]
    [InlineData("vertical-s-turning", 4)]
    public void A_drill_of_which_only_the_closing_straight_was_not_seen_is_not_given_up(string slug, int seed)
    {
        var last = Scored.Drill(slug).Segments.Count - 1;
        var lesson = new Lesson(seed, skill: 0.7).Transit().Drill(slug, count: last).Turn(120).Climb(-800).Home();
        var report = lesson.Report(slug);
        lesson.AssertToldAsFlown(report, worstS: 15);
        Assert.False(report.Runs.Single(r => r.Scored).GivenUp);
        Assert.DoesNotContain(report.Findings, f => f.Kind is FindingKind.Aborted or FindingKind.SkippedSegment);
        Assert.True(report.Segments[last] is { Status: not SegmentStatus.Skipped } or { Verdict: Verdict.NotMeasured });
    }

    /// <summary>The instructor has control for a while before the last turn.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void A_drill_that_may_as_well_have_been_flown_on_after_a_pause_is_not_given_up(int seed)
    {
        var lesson = new Lesson(seed, skill: 0.7).Transit().Drill("racetrack", count: 3);
        lesson.Turn(-60).Straight(40).Turn(60).Straight(20).Drill("racetrack", first: 3).Home();
        var report = lesson.Report("racetrack");
        lesson.AssertToldAsFlown(report, worstS: 10);
        Assert.DoesNotContain(report.Findings, f => f.Kind == FindingKind.Aborted);
    }
}
