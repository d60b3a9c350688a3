using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;
using Xunit;
using static SchoolDrills.Engine.Tests.Drills.Timelines;

namespace SchoolDrills.Engine.Tests.Drills.Editing;

public sealed class TemplateMergeTests
{
    private static readonly Segment Leg = new() { Name = "leg", DurationS = 30 };
    private static readonly Segment Circle = new()
    {
        Name = "circle",
        TurnDeg = 360,
        ClimbFt = 1000,
    };
    private static readonly Segment Corner = new() { Name = "corner", TurnDeg = 90 };
    private static readonly DrillTemplate Before = Drill(Leg, Circle, Corner);

    private static string Rows(DrillTemplate template) =>
        string.Join(" | ", SegmentEdits.Rows(template).Select(r => $"{r.Segment.Name} {SegmentWords.Of(r.Segment)}"));

    [Fact]
    public void Different_fields_of_one_segment_are_merged()
    {
        var merge = TemplateMerge.Of(
            Before,
            Drill(Leg, Circle with { ClimbFt = 500 }, Corner),
            Drill(Leg, Circle with { TurnRateDegPerS = 1.5 }, Corner)
        );

        Assert.Empty(merge.Conflicts);
        Assert.Equal(
            "leg straight and level for 0:30 | circle right 360° at 1.5°/s, climb 500 ft | corner right 90°",
            Rows(merge.Template)
        );
    }

    [Fact]
    public void One_field_changed_by_both_is_chosen_by_a_person()
    {
        var (mine, theirs) = (Drill(Leg, Circle, Corner with { TurnDeg = 180 }), Drill(Leg, Circle, Corner with { TurnDeg = -90 }));

        var conflict = Assert.Single(TemplateMerge.Of(Before, mine, theirs).Conflicts);
        Assert.Equal(new("segments[2].turnDeg", "segment 3, turn", "right 90°", "right 180°", "left 90°"), conflict);

        var chosen = new Dictionary<string, MergeSide> { [conflict.Path] = MergeSide.Mine };
        Assert.Equal(180, TemplateMerge.Of(Before, mine, theirs, chosen).Template.Segments[2].TurnDeg);
        chosen[conflict.Path] = MergeSide.Theirs;
        Assert.Equal(-90, TemplateMerge.Of(Before, mine, theirs, chosen).Template.Segments[2].TurnDeg);
    }

    [Fact]
    public void Rows_added_by_both_are_all_kept_each_in_its_place()
    {
        var merge = TemplateMerge.Of(
            Before,
            Drill(new Segment { Name = "mine", DurationS = 10 }, Leg, Circle, Corner),
            Drill(Leg, Circle, new Segment { Name = "theirs", DurationS = 20 }, Corner)
        );

        Assert.Empty(merge.Conflicts);
        Assert.Equal(["mine", "leg", "circle", "theirs", "corner"], merge.Template.Segments.Select(s => s.Name));
    }

    [Fact]
    public void A_row_taken_out_by_one_and_changed_by_the_other_is_not_lost_unasked()
    {
        var merge = TemplateMerge.Of(Before, Drill(Leg, Corner), Drill(Leg, Circle with { ClimbFt = 500 }, Corner));

        Assert.Equal("segment 2", Assert.Single(merge.Conflicts).Part);
        Assert.Equal(["leg", "circle", "corner"], merge.Template.Segments.Select(s => s.Name));
        var mine = new Dictionary<string, MergeSide> { ["segments[1]"] = MergeSide.Mine };
        Assert.Equal(
            ["leg", "corner"],
            TemplateMerge
                .Of(Before, Drill(Leg, Corner), Drill(Leg, Circle with { ClimbFt = 500 }, Corner), mine)
                .Template.Segments.Select(s => s.Name)
        );
    }

    [Fact]
    public void A_change_inside_a_group_and_of_its_repetitions_are_merged()
    {
        var group = new Segment { Repeat = 2, Segments = [Leg, Corner] };
        var merge = TemplateMerge.Of(
            Drill(group),
            Drill(group with { Repeat = 4 }),
            Drill(group with { Segments = [Leg with { DurationS = 60 }, Corner] })
        );

        Assert.Empty(merge.Conflicts);
        Assert.Equal(4, merge.Template.Segments[0].Repeat);
        Assert.Equal(60, merge.Template.Segments[0].Segments[0].DurationS);
    }

    [Fact]
    public void Differences_are_told_in_words()
    {
        var after = Drill(Leg, Corner with { TurnDeg = -90 }, Circle, new Segment { DurationS = 15 }) with
        {
            Title = "Other",
            Entry = new DrillEntry(90, 3000, 90),
            LoadTasks = [new LoadTask("Sum", "2 and 2?", 20, "4")],
        };

        Assert.Equal(
            [
                "Title: “Test” is now “Other”.",
                "Entry, heading: 360° is now 090°.",
                "Segment 2: left 90°, new.",
                "Segment 4: straight and level for 0:15, new.",
                "Segment 3: right 90° is taken out.",
                "Load task 1: “Sum”, “2 and 2?”, 0:20, “4”, new.",
            ],
            TemplateDifferences.Between(Before, after).Select(d => d.Sentence)
        );
        Assert.Equal(
            ["Segment 1: straight and level for 0:30, moved here from 3."],
            TemplateDifferences.Between(Drill(Circle, Corner, Leg), Before).Select(d => d.Sentence)
        );
        Assert.Equal(
            ["Segment 2, turn: right 360° is now left 180°.", "Segment 2, rate of turn: 2°/s, new."],
            TemplateDifferences
                .Between(Before, Drill(Leg, Circle with { TurnDeg = -180, TurnRateDegPerS = 2 }, Corner))
                .Select(d => d.Sentence)
        );
        Assert.Empty(TemplateDifferences.Between(Before, Before with { Version = 7 }));
    }
}
