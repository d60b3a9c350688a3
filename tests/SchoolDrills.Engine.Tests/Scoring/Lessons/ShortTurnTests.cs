using SchoolDrills.Accuracy.Flown;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>A turn rolled out 40° short, noticed some seconds later and put right.</summary>
public sealed class ShortTurnTests
{
    public static TheoryData<string, int> Flown() =>
        [.. new[] { "timed-turns", "racetrack" }.SelectMany(slug => new[] { 2, 3, 6, 7, 8 }.Select(seed => (slug, seed)))];

    [Theory]
    [MemberData(nameof(Flown))]
    public void A_turn_ended_short_ends_where_it_was_rolled_out_of(string slug, int seed)
    {
        const int turn = 1;
        var lesson = new Lesson(seed, skill: 0.6).Transit().Drill(slug, [new Mistake("heading_undershoot", turn, 40, -1)]).Home();
        var report = lesson.Report(slug);
        Assert.All(report.Segments, s => Assert.Equal(SegmentStatus.Flown, s.Status));
        var straight = lesson.Drilled.Single(l => l.Leg.Segment == turn + 1);
        Assert.InRange((report.Segments[turn + 1].StartUtc!.Value - lesson.Utc(straight.StartS)).TotalSeconds, -4, 4);
        lesson.AssertToldAsFlown(report, worstS: 12);
    }
}
