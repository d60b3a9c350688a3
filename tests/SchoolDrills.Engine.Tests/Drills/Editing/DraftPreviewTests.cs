using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;
using Xunit;
using static SchoolDrills.Engine.Tests.Drills.Timelines;

namespace SchoolDrills.Engine.Tests.Drills.Editing;

public sealed class DraftPreviewTests
{
    private static readonly Segment Leg = new() { DurationS = 60 };
    private static readonly Segment Corner = new() { TurnDeg = 90 };

    [Fact]
    public void A_refusal_stands_beside_its_segment_and_the_draft_is_drawn_up_to_it()
    {
        var preview = DraftPreview.Of(
            Drill(Leg, Corner, new Segment { Repeat = 2, Segments = [Leg, new Segment { TurnDeg = 360, DurationS = 90 }] }) with
            {
                Title = "",
                LoadTasks = [new LoadTask("Sum", "2 and 2?", 70), new LoadTask("Late", "3 and 3?", 300)],
            }
        );

        Assert.Equal(
            [
                new("title", "title must not be empty."),
                new("segments[2].segments[1]", "segment 3.2: 360° at 3°/s takes 120 s, but durationS says 90 s."),
            ],
            preview.Problems
        );
        Assert.False(preview.IsWhole);
        // A leg, a corner, and of the group the leg before what is refused, once.
        Assert.Equal(150, preview.Timeline!.DurationS);
        Assert.Equal("Sum", Assert.Single(preview.Timeline.LoadTasks).Name);
    }

    [Fact]
    public void A_draft_of_nothing_shows_nothing()
    {
        var preview = DraftPreview.Of(Drill());

        Assert.Null(preview.Timeline);
        Assert.Equal(new("segments", "The drill has no segments."), Assert.Single(preview.Problems));
        Assert.Equal(new SegmentStart(360, 3000, 90), preview.StartOf(Drill(), null));
    }

    [Fact]
    public void Rows_know_the_segments_flown_from_them_and_where_they_begin()
    {
        var drill = Drill(Leg, new Segment { Repeat = 4, Segments = [Leg, Corner] });
        var preview = DraftPreview.Of(drill);

        Assert.Equal(new RowFlown(1, 8), preview.Rows["segments[1]"]);
        Assert.Equal(new RowFlown(2, 8), preview.Rows["segments[1].segments[1]"]);
        Assert.Equal(new SegmentStart(360, 3000, 90), preview.StartOf(drill, "segments[1].segments[1]"));
        Assert.Equal(new SegmentStart(360, 3000, 90), preview.StartOf(drill, null));
    }

    [Fact]
    public void A_square_closes_and_a_leg_does_not()
    {
        var square = DraftPreview.Of(Drill(new Segment { Repeat = 4, Segments = [Leg, Corner] }));
        Assert.True(square.Closure!.IsClosed);

        // A minute at 90 kt indicated is 1.5 NM and, at 3,000 ft of the standard atmosphere, some 4 or 5% more.
        var leg = DraftPreview.Of(Drill(Leg, Leg with { ClimbFt = 500 })).Closure!;
        Assert.False(leg.IsClosed);
        Assert.InRange(leg.DistanceNm, 3.1, 3.2);
        Assert.Equal((360, 0, 500, 0), (leg.BearingMagDeg, leg.TurnedDeg, leg.ClimbedFt, leg.SpeedChangeKt));
    }

    [Fact]
    public void The_level_is_the_sum_of_its_lines()
    {
        foreach (var template in Catalogue.Templates)
        {
            var preview = DraftPreview.Of(template);
            var lines = LevelSum.Lines(preview.Level!, preview.Timeline!);

            Assert.Empty(preview.Problems);
            Assert.Equal(preview.Level!.Score, lines.Sum(l => l.Score), 9);
            Assert.Contains($"level {preview.Level.Level}", LevelSum.Result(preview.Level), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Typing_in_one_field_is_one_step_back_and_a_change_forgets_what_was_undone()
    {
        var history = new DraftHistory(Drill(Leg));
        foreach (var title in new[] { "B", "Bo", "Box" })
            history = history.Changed(history.Now with { Title = title }, "title", "title");
        history = history.Changed(history.Now with { Purpose = "To turn." }, "purpose", "purpose");

        Assert.Equal("Box", history.Undo().Now.Title);
        Assert.Equal("Test", history.Undo().Undo().Now.Title);
        Assert.Equal("title", history.Undo().Undo().CanRedo);
        Assert.Null(history.Undo().Changed(Drill(Corner), "new").CanRedo);
    }

    [Fact]
    public void Every_example_can_be_put_on_a_timetable()
    {
        var drill = CallExample.All.Aggregate(Drill(new Segment { DurationS = 1200 }), (d, e) => e.AddTo(d, 60));

        Assert.Empty(TemplateProblems.Of(drill));
        Assert.Equal(CallExample.All.Count, drill.Checks.Count + drill.LoadTasks.Count);
        for (var level = 1; level <= 5; level++)
        {
            Assert.Contains(CallExample.All, e => e.Level == level && e.Kind == "task" && e.ExpectedAnswer is not null);
            Assert.Contains(CallExample.All, e => e.Level == level && e.Kind is "flow" or "checklist");
        }
    }
}
