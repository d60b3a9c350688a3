extern alias cockpit;

using cockpit::SchoolDrills.Cockpit.Flying;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Web.Tests.Cockpit;

public class CallTests
{
    private static readonly DrillTimeline Box = Timeline("box-circles");

    [Theory]
    [InlineData(5)]
    [InlineData(10)]
    [InlineData(30)]
    public void Every_segment_and_the_end_are_called_that_long_ahead(int leadS)
    {
        var calls = Call.Of(Box, leadS, []).Where(c => c.Kind is CallKind.Segment or CallKind.End).ToList();
        Assert.Equal(Box.Segments.Count + 1, calls.Count);
        Assert.Equal(0, calls[0].AtS);
        Assert.All(Box.Segments.Skip(1), s => Assert.Equal(s.StartS - leadS, calls[s.Index].AtS));
        Assert.Equal(Box.DurationS - leadS, calls[^1].AtS);
    }

    [Fact]
    public void A_segment_after_one_shorter_than_the_lead_is_called_at_that_ones_start()
    {
        var calls = Call.Of(Box, 45, []).Where(c => c.Kind == CallKind.Segment).ToList();
        Assert.Equal(Box.Segments[0].StartS, calls[1].AtS);
    }

    [Fact]
    public void Checks_and_load_tasks_are_called_at_their_own_times_after_the_flying()
    {
        var calls = Call.Of(Box, 10, [420]);
        Assert.Equal(Box.Checks.Select(c => c.FromS), calls.Where(c => c.Kind == CallKind.Check).Select(c => c.AtS));
        Assert.Equal(Box.LoadTasks.Select(t => t.AtS).Order(), calls.Where(c => c.Kind == CallKind.LoadTask).Select(c => c.AtS));
        Assert.Equal(calls.OrderBy(c => c.AtS).ThenBy(c => c.Kind), calls);
    }

    /// <summary>Headings are spoken figure by figure, altitudes as numbers: FAA AIM 4-2-8, 4-2-9 and 4-2-10.</summary>
    [Theory]
    [InlineData("level left 360 at standard rate, roll out 090, 3000 ft", "level left 3 6 0 at standard rate, roll out 0 9 0, 3000 feet")]
    [InlineData("climb straight ahead, 500 fpm, 360, level at 4000", "climb straight ahead, 500 feet a minute, 3 6 0, level at 4000")]
    [InlineData("slow to 100 kt in 1:30", "slow to 100 knots in 1:30")]
    public void A_call_is_spoken_as_on_the_radio(string text, string spoken) =>
        Assert.Equal(spoken, new Call(0, CallKind.Segment, text).Spoken);

    [Fact]
    public void The_load_is_asked_for_half_a_minute_after_each_task_never_twice_a_minute_and_at_the_end()
    {
        foreach (var slug in Catalogue.Templates.Select(d => d.Slug))
        {
            var timeline = Timeline(slug);
            var times = RatingTimes.Of(timeline);
            Assert.Equal(timeline.DurationS, times[^1]);
            Assert.All(times.Zip(times.Skip(1)), pair => Assert.True(pair.Second - pair.First >= 60, $"{slug}: {pair}"));
            Assert.All(
                timeline.LoadTasks.Where(t => t.AtS + 90 <= timeline.DurationS - 60),
                t => Assert.Contains(times, s => s >= t.AtS + 30 && s <= t.AtS + 90)
            );
        }
    }

    internal static DrillTimeline Timeline(string slug)
    {
        var drill = Catalogue.Templates.Single(d => d.Slug == slug);
        return DrillTimeline.Resolve(drill, drill.Entry);
    }
}
