using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Drills;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Tests.Layout;

public sealed class LabelsTests
{
    [Fact]
    public void Where_a_tolerance_holds_is_said_in_few_words()
    {
        Assert.Equal("", Labels.Of((IReadOnlyList<SegmentKind>?)null));
        Assert.Equal("turns", Labels.Of([SegmentKind.LevelTurn, SegmentKind.ClimbTurn, SegmentKind.DescendTurn]));
        Assert.Equal(
            "straight legs",
            Labels.Of([SegmentKind.LevelStraight, SegmentKind.ClimbStraight, SegmentKind.DescendStraight, SegmentKind.SpeedChange])
        );
        Assert.Equal(
            "climbs and descents",
            Labels.Of([SegmentKind.ClimbStraight, SegmentKind.DescendStraight, SegmentKind.ClimbTurn, SegmentKind.DescendTurn])
        );
    }

    [Fact]
    public void By_the_clock_a_gate_names_the_segment_that_begins_there()
    {
        var lines = DrillSchedule.Of(SampleSchool.Timeline);
        Assert.Equal(
            ["1. Straight", "2. Climbing turn", "half-way", "3. Straight", "4. Descending turn", "end"],
            lines.Where(l => l.Kind == "gate").Select(l => l.Text)
        );
        Assert.Equal(lines.Select(l => l.AtS).Order(), lines.Select(l => l.AtS));
    }

    /// <summary>The gates of a drill are where its segments end; the clock begins with the first one all the same.</summary>
    [Fact]
    public void By_the_clock_a_drill_begins_at_zero_with_its_entry()
    {
        var template = Catalogue.Templates.Single(t => t.Slug == "box-circles");
        var first = DrillSchedule.Of(DrillTimeline.Resolve(template, template.Entry))[0];
        Assert.Equal((0, "gate", template.Entry.AltitudeFt), (first.AtS, first.Kind, first.Gate!.AltitudeFt));
        Assert.StartsWith("1. ", first.Text, StringComparison.Ordinal);
    }
}
