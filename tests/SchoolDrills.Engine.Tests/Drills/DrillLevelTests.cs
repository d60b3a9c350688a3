using SchoolDrills.Engine.Drills;
using Xunit;
using static SchoolDrills.Engine.Tests.Drills.Timelines;

namespace SchoolDrills.Engine.Tests.Drills;

public sealed class DrillLevelTests
{
    private static DrillLevel Level(DrillTemplate template) =>
        DrillLevel.Of(DrillTimeline.Resolve(template, new DrillEntry(360, 3000, 90)));

    [Fact]
    public void The_box_is_the_sum_of_its_parts()
    {
        var level = Level(Catalogue.Templates.Single(t => t.Slug == "box-circles"));

        // A side of 210 s: two things for 120 s, one for 30 s.
        Assert.Equal(270.0 / 210, level.ThingsAtOnce, 1e-9);
        // Changes: into the circle 2, out of it 2, into the corner 1, out of it 1, the last of which falls away; in 14 minutes.
        Assert.Equal(0.4 * 23 / 14, level.Pace, 1e-9);
        // Four checks and five tasks in 14 minutes, nine minutes beyond the fifth.
        Assert.Equal(9.0 / 14, level.Load, 1e-9);
        Assert.Equal(0.36, level.Length, 1e-9);
        Assert.Equal(level.ThingsAtOnce + level.Pace + level.Load + level.Length, level.Score, 1e-9);
    }

    [Fact]
    public void Straight_and_level_is_the_easiest_there_is() =>
        Assert.Equal(new DrillLevel(1, 0, 0, 0, 0, 0, 0), Level(Drill(new Segment { DurationS = 120 })));

    [Fact]
    public void Load_tasks_raise_the_level_and_mirroring_does_not_change_it()
    {
        var drill = Drill(new Segment { TurnDeg = 360, ClimbFt = 1000 });
        var loaded = drill with { LoadTasks = [new LoadTask("Sum", "2 and 2?", 10), new LoadTask("Sum", "3 and 3?", 60)] };

        Assert.Equal(1, Level(loaded).Score - Level(drill).Score, 1e-9);
        Assert.Equal(Level(drill), DrillLevel.Of(DrillTimeline.Resolve(drill, new DrillEntry(360, 3000, 90, Mirrored: true))));
    }

    [Fact]
    public void A_turn_beyond_standard_rate_is_harder_than_one_at_it() =>
        Assert.True(
            Level(Drill(new Segment { TurnDeg = 360, TurnRateDegPerS = 10 })).Score > Level(Drill(new Segment { TurnDeg = 360 })).Score
        );
}
