using SchoolDrills.Engine.Drills;
using Xunit;
using static SchoolDrills.Engine.Tests.Drills.Timelines;

namespace SchoolDrills.Engine.Tests.Drills;

public sealed class TemplateProblemsTests
{
    private static readonly Segment Straight = new() { DurationS = 30 };

    private static string Problem(params Segment[] segments) => Assert.Single(TemplateProblems.Of(Drill(segments)));

    [Fact]
    public void A_circle_in_90_seconds_at_standard_rate_is_refused_with_the_calculation() =>
        Assert.Equal(
            "segment 3: 360° at 3°/s takes 120 s, but durationS says 90 s.",
            Problem(Straight, Straight, new Segment { DurationS = 90, TurnDeg = 360 })
        );

    [Fact]
    public void A_climb_shorter_than_its_turn_is_refused_with_the_calculation() =>
        Assert.Equal(
            "segment 1: 360° at 3°/s takes 120 s, but 500 ft at 500 fpm takes 60 s.",
            Problem(new Segment { TurnDeg = 360, ClimbFt = 500 })
        );

    [Fact]
    public void A_climb_that_cannot_be_made_in_the_stated_time_is_refused_with_the_calculation() =>
        Assert.Equal(
            "segment 1: 1000 ft at 500 fpm takes 120 s, but durationS says 60 s.",
            Problem(new Segment { DurationS = 60, ClimbFt = 1000 })
        );

    [Fact]
    public void A_segment_in_a_group_is_named_by_its_place() =>
        Assert.Equal(
            "segment 2.1: nothing ends it; give durationS, turnDeg or climbFt.",
            Problem(Straight, new Segment { Repeat = 2, Segments = [new Segment()] })
        );

    [Fact]
    public void A_rate_without_a_turn_and_a_vertical_speed_without_a_climb_are_refused()
    {
        Assert.StartsWith(
            "segment 1: has a rate of turn but no turnDeg",
            Problem(new Segment { DurationS = 30, TurnRateDegPerS = 3 }),
            StringComparison.Ordinal
        );
        Assert.StartsWith(
            "segment 1: has a vertical speed but no climbFt",
            Problem(new Segment { DurationS = 30, VerticalSpeedFpm = 500 }),
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(-30)]
    [InlineData(0)]
    public void A_length_that_is_not_positive_is_refused(double durationS) =>
        Assert.Contains("durationS is", Problem(new Segment { DurationS = durationS }), StringComparison.Ordinal);

    [Fact]
    public void Rates_beyond_the_limits_are_refused()
    {
        Assert.Contains("at most 15 °/s", Problem(new Segment { TurnDeg = 360, TurnRateDegPerS = 20 }), StringComparison.Ordinal);
        Assert.Contains("at most 2000 fpm", Problem(new Segment { ClimbFt = 500, VerticalSpeedFpm = 2500 }), StringComparison.Ordinal);
    }

    [Fact]
    public void A_turn_too_steep_for_the_airspeed_is_refused_with_its_bank()
    {
        // tan φ = Vω/g: 150 kt at 15°/s is 77.167 m/s × 0.2618 /s ÷ 9.80665 = 2.060, 64.11°.
        var problem = Assert.Single(
            TemplateProblems.Of(
                Drill(
                    new Segment
                    {
                        Name = "Steep",
                        TurnDeg = 360,
                        TurnRateDegPerS = 15,
                    }
                ),
                new DrillEntry(360, 3000, 150)
            )
        );

        Assert.Equal("\"Steep\": 15°/s at 150 kt needs 64.11° of bank; the limit is 60°.", problem);
    }

    [Fact]
    public void A_drill_of_too_many_segments_is_refused_without_expanding_it() =>
        Assert.Equal(
            "With repetitions the drill has 1000000000000 segments; the limit is 500.",
            Problem(new Segment { Repeat = 1_000_000, Segments = [new Segment { Repeat = 1_000_000, Segments = [Straight] }] })
        );

    [Fact]
    public void A_drill_longer_than_three_hours_is_refused() =>
        Assert.Equal(
            "The drill takes 11400 s; the limit is 10800 s.",
            Problem(new Segment { Repeat = 19, Segments = [new Segment { DurationS = 600 }] })
        );

    [Fact]
    public void A_drill_that_ends_below_the_ground_or_below_flying_speed_is_refused()
    {
        Assert.Contains("ends at -2000 ft", Problem(new Segment { Name = "Down", ClimbFt = -5000 }), StringComparison.Ordinal);
        Assert.Contains(
            "ends at 10 kt",
            Problem(
                new Segment
                {
                    Name = "Slow",
                    DurationS = 60,
                    SpeedChangeKt = -80,
                }
            ),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_check_or_a_task_outside_the_drill_is_refused()
    {
        var drill = Drill(Straight) with
        {
            Checks = [new Check("Flow", CheckKind.Flow, ["Fuel"], 20, 20)],
            LoadTasks = [new LoadTask("Sum", "2 and 2?", 31)],
        };

        Assert.Equal(
            [
                "Check \"Flow\" runs from 20 s for 20 s; the drill runs from 0 to 30 s.",
                "Load task \"Sum\" comes at 31 s; the drill runs from 0 to 30 s.",
            ],
            TemplateProblems.Of(drill)
        );
    }

    [Fact]
    public void A_group_cannot_turn_and_a_segment_cannot_repeat()
    {
        Assert.StartsWith(
            "segment 1: a group holds segments",
            Problem(new Segment { TurnDeg = 90, Segments = [Straight] }),
            StringComparison.Ordinal
        );
        Assert.StartsWith("segment 1: repeat belongs to a group", Problem(Straight with { Repeat = 3 }), StringComparison.Ordinal);
    }

    [Fact]
    public void Groups_may_be_nested_three_deep()
    {
        static Segment Group(params Segment[] inner) => new() { Segments = inner };

        Assert.Empty(TemplateProblems.Of(Drill(Group(Group(Group(Straight))))));
        Assert.Contains("3 deep at most", Problem(Group(Group(Group(Group(Straight))))), StringComparison.Ordinal);
    }

    [Fact]
    public void A_null_character_in_a_text_is_refused()
    {
        Assert.Equal(["title has a control character."], TemplateProblems.Of(Drill(Straight) with { Title = "a\0b" }));
        Assert.Equal("segment 1: its name has a control character.", Problem(Straight with { Name = "a\0b" }));
    }

    [Fact]
    public void Every_wrong_segment_is_named()
    {
        var problems = TemplateProblems.Of(
            Drill(new Segment(), Straight, new Segment { TurnDeg = 90, DurationS = 60 }) with
            {
                Title = " ",
                Slug = "No Slug",
            }
        );

        Assert.Equal(4, problems.Count);
    }
}
