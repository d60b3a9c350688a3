using SchoolDrills.Accuracy.Flown;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>A circle flown twice in a row, because the first was spoiled: the second is the one that counts.</summary>
public sealed class FlownAgainTests
{
    private static readonly FindingKind[] ClockKinds = [FindingKind.LateStart, FindingKind.EarlyStart];

    [Theory]
    [InlineData("timed-turns", 5, 1)]
    [InlineData("timed-turns", 5, 2)]
    [InlineData("box-step-2-circles", 5, 3)]
    [InlineData("box-step-2-circles", 9, 4)]
    public void A_circle_flown_again_is_read_so_and_the_drill_goes_on_after_it(string slug, int circle, int seed)
    {
        var lesson = new Lesson(seed, skill: 0.7).Transit().Drill(slug, [new Mistake("repeated_segment", circle, 120, 1)]).Home();
        var report = lesson.Report(slug);
        Assert.False(Assert.Single(report.Runs, r => r.ReadingOf is null).GivenUp);
        Assert.All(report.Segments, s => Assert.Equal(SegmentStatus.Flown, s.Status));
        var second = lesson.Drilled.Last(l => l.Leg.Segment == circle);
        Assert.InRange((report.Segments[circle].StartUtc!.Value - lesson.Utc(second.StartS)).TotalSeconds, -5, 5);
        Assert.InRange((report.Segments[circle].EndUtc!.Value - lesson.Utc(second.EndS)).TotalSeconds, -5, 5);
        var first = lesson.Drilled.First(l => l.Leg.Segment == circle);
        Assert.InRange((report.Segments[circle - 1].EndUtc!.Value - lesson.Utc(first.StartS)).TotalSeconds, -2.5, 2.5);
    }

    /// <summary>Each straight is timed by itself from there on: the clock of the plan is a circle behind.</summary>
    [Fact]
    public void The_clock_starts_anew_after_a_circle_flown_again()
    {
        var report = new Lesson(6, skill: 0.15)
            .Transit()
            .Drill("box-step-2-circles", [new Mistake("repeated_segment", 5, 120, 1)])
            .Home()
            .Report("box-step-2-circles");
        Assert.Equal(Verdict.NotMeasured, Timing(report, 5)?.Verdict);
        Assert.All(Enumerable.Range(6, 6), k => Assert.InRange(Math.Abs(Timing(report, k)?.Worst ?? 0), 0, 45));
        Assert.DoesNotContain(report.Findings, f => ClockKinds.Contains(f.Kind) && f.Magnitude > 45);
    }

    private static DeviationReport? Timing(ScoreReport report, int k) =>
        report.Segments[k].Deviations.FirstOrDefault(d => d.Parameter == Parameter.Timing);
}
