using SchoolDrills.Engine.Drills;
using Xunit;
using static SchoolDrills.Engine.Tests.Drills.Timelines;

namespace SchoolDrills.Engine.Tests.Drills;

public sealed class DrillTimelineTests
{
    private static readonly DrillEntry North = new(360, 3000, 90);

    private static TimelineSegment One(Segment segment, DrillEntry? entry = null) =>
        DrillTimeline.Resolve(Drill(segment), entry ?? North).Segments.Single();

    [Fact]
    public void A_turn_of_360_degrees_at_standard_rate_takes_two_minutes()
    {
        var circle = One(new Segment { TurnDeg = 360 });

        Assert.Equal(
            (SegmentKind.LevelTurn, 120.0, 3.0, 360.0),
            (circle.Kind, circle.DurationS, circle.TurnRateDegPerS, circle.EndHeadingMagDeg)
        );
    }

    [Fact]
    public void A_climb_of_1000_ft_at_500_fpm_takes_two_minutes()
    {
        var climb = One(new Segment { ClimbFt = 1000 });

        Assert.Equal(
            (SegmentKind.ClimbStraight, 120.0, 500.0, 4000.0),
            (climb.Kind, climb.DurationS, climb.VerticalSpeedFpm, climb.EndAltitudeFt)
        );
    }

    [Fact]
    public void A_segments_kind_follows_from_its_turn_climb_and_speed_change()
    {
        Assert.Equal(SegmentKind.LevelStraight, One(new Segment { DurationS = 30 }).Kind);
        Assert.Equal(SegmentKind.LevelTurn, One(new Segment { TurnDeg = -90 }).Kind);
        Assert.Equal(SegmentKind.ClimbStraight, One(new Segment { ClimbFt = 500 }).Kind);
        Assert.Equal(SegmentKind.ClimbTurn, One(new Segment { TurnDeg = 180, ClimbFt = 500 }).Kind);
        Assert.Equal(SegmentKind.DescendStraight, One(new Segment { ClimbFt = -500 }).Kind);
        Assert.Equal(SegmentKind.DescendTurn, One(new Segment { TurnDeg = 180, ClimbFt = -500 }).Kind);
        Assert.Equal(SegmentKind.SpeedChange, One(new Segment { DurationS = 60, SpeedChangeKt = -20 }).Kind);
    }

    [Fact]
    public void Headings_are_above_0_and_at_most_360()
    {
        Assert.Equal(360, One(new Segment { TurnDeg = -45 }, North with { HeadingMagDeg = 45 }).EndHeadingMagDeg);
        Assert.Equal(315, One(new Segment { TurnDeg = -45 }).EndHeadingMagDeg);
        Assert.Equal(10, One(new Segment { TurnDeg = 370 }).EndHeadingMagDeg);
    }

    [Fact]
    public void Groups_of_one_name_are_numbered_through_the_drill()
    {
        static Segment Side(string what) => new() { Name = "Side", Segments = [new Segment { Name = what, DurationS = 30 }] };
        var timeline = DrillTimeline.Resolve(
            Drill(
                new Segment { Repeat = 2, Segments = [Side("up"), Side("down")] },
                new Segment
                {
                    Name = "Lap",
                    Repeat = 2,
                    Segments = [Side("around")],
                }
            ),
            North
        );

        Assert.Equal(
            ["Side 1: up", "Side 2: down", "Side 3: up", "Side 4: down", "Lap 1, Side 1: around", "Lap 2, Side 1: around"],
            timeline.Segments.Select(s => s.Name)
        );
    }

    [Fact]
    public void At_half_rate_a_climbing_circle_takes_four_minutes_and_climbs_as_far()
    {
        var circle = One(new Segment { TurnDeg = 360, ClimbFt = 1000 }, North with { HalfRate = true });

        Assert.Equal(
            (240.0, 1.5, 250.0, 4000.0),
            (circle.DurationS, circle.TurnRateDegPerS, circle.VerticalSpeedFpm, circle.EndAltitudeFt)
        );
        Assert.Equal(30, One(new Segment { DurationS = 30 }, North with { HalfRate = true }).DurationS);
    }

    [Fact]
    public void At_half_rate_checks_and_tasks_stay_with_their_segment()
    {
        var drill = Drill(new Segment { DurationS = 30 }, new Segment { TurnDeg = 180 }, new Segment { DurationS = 30 }) with
        {
            Checks = [new Check("Flow", CheckKind.Flow, ["Fuel"], 90, 20)],
            LoadTasks = [new LoadTask("Sum", "Seven times eight?", 60, "56")],
        };
        var timeline = DrillTimeline.Resolve(drill, North with { HalfRate = true });

        Assert.Equal((150.0, 170.0, 2), (timeline.Checks[0].FromS, timeline.Checks[0].ToS, timeline.Checks[0].SegmentIndex));
        Assert.Equal((90.0, 1), (timeline.LoadTasks[0].AtS, timeline.LoadTasks[0].SegmentIndex));
    }

    [Fact]
    public void Stated_times_within_a_second_agree_and_the_stated_length_is_kept()
    {
        var turn = One(new Segment { DurationS = 27, TurnDeg = 80 });

        Assert.Equal(27, turn.DurationS);
        Assert.Equal(80, turn.TurnedDegAt(27), 1e-9);
    }

    [Fact]
    public void Gates_and_cues_are_in_an_instructors_words()
    {
        var box = Catalogue.Templates.Single(t => t.Slug == "box-circles");
        var timeline = DrillTimeline.Resolve(box, box.Entry);

        Assert.Contains(new Gate(90, 180, 3500, "1:30, half-way, 180, 500 ft up"), timeline.Gates);
        Assert.Contains(new Gate(150, 360, 4000, "2:30, roll out 360, level at 4000"), timeline.Gates);
        Assert.Contains(new Cue(25, "Coming up: climbing right 360 at standard rate, 500 fpm, roll out 360, level at 4000"), timeline.Cues);
        Assert.Equal(new Cue(0, "Start: straight and level for 0:30, 360, 3000 ft, 90 kt"), timeline.Cues[0]);
    }

    [Fact]
    public void A_reversal_is_called_as_one()
    {
        var timeline = DrillTimeline.Resolve(
            Drill(new Segment { TurnDeg = 180, ClimbFt = 500 }, new Segment { TurnDeg = -180, ClimbFt = -500 }),
            North
        );

        Assert.Equal("1:00, reverse at 180, 3500 ft and down", timeline.Gates[0].Label);
        Assert.Equal("Coming up: descending left 180 at standard rate, 500 fpm, roll out 360, level at 3000", timeline.Cues[1].Text);
    }

    [Fact]
    public void A_change_of_airspeed_is_called_and_gated_with_its_speed()
    {
        var timeline = DrillTimeline.Resolve(
            Drill(new Segment { DurationS = 60 }, new Segment { DurationS = 60, SpeedChangeKt = -20 }),
            North
        );

        Assert.Equal("Coming up: slow to 70 kt in 1:00, 360, 3000 ft", timeline.Cues[1].Text);
        Assert.Equal("2:00, 360, 3000 ft, 70 kt", timeline.Gates[1].Label);
    }

    [Fact]
    public void A_template_with_problems_does_not_resolve()
    {
        var error = Assert.Throws<ArgumentException>(() =>
            DrillTimeline.Resolve(Drill(new Segment { TurnDeg = 360, DurationS = 90 }), North)
        );

        Assert.Contains("360° at 3°/s takes 120 s, but durationS says 90 s", error.Message, StringComparison.Ordinal);
    }
}
