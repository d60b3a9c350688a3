using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Engine.Tests.Drills;

/// <summary>
/// The first four drills against the segment lists of the public simulated flights (truth.json of the flight named with each).
/// </summary>
public sealed class KnownTimelineTests
{
    private sealed record Row(
        string Kind,
        double StartS,
        double EndS,
        double StartHeading,
        double EndHeading,
        double StartAltitude,
        double EndAltitude,
        double VerticalSpeed,
        double TurnRate,
        double Airspeed
    );

    [Fact]
    public void The_box_with_circles_has_the_flown_segments() =>
        Agrees(
            "box-circles",
            new DrillEntry(360, 3000, 90),
            [
                // f01-box-circles
                new("level-straight", 0, 30, 360, 360, 3000, 3000, 0, 0, 90),
                new("climb-turn", 30, 150, 360, 360, 3000, 4000, 500, 3, 90),
                new("level-straight", 150, 180, 360, 360, 4000, 4000, 0, 0, 90),
                new("level-turn", 180, 210, 360, 90, 4000, 4000, 0, 3, 90),
                new("level-straight", 210, 240, 90, 90, 4000, 4000, 0, 0, 90),
                new("descend-turn", 240, 360, 90, 90, 4000, 3000, -500, -3, 90),
                new("level-straight", 360, 390, 90, 90, 3000, 3000, 0, 0, 90),
                new("level-turn", 390, 420, 90, 180, 3000, 3000, 0, 3, 90),
                new("level-straight", 420, 450, 180, 180, 3000, 3000, 0, 0, 90),
                new("climb-turn", 450, 570, 180, 180, 3000, 4000, 500, 3, 90),
                new("level-straight", 570, 600, 180, 180, 4000, 4000, 0, 0, 90),
                new("level-turn", 600, 630, 180, 270, 4000, 4000, 0, 3, 90),
                new("level-straight", 630, 660, 270, 270, 4000, 4000, 0, 0, 90),
                new("descend-turn", 660, 780, 270, 270, 4000, 3000, -500, -3, 90),
                new("level-straight", 780, 810, 270, 270, 3000, 3000, 0, 0, 90),
                new("level-turn", 810, 840, 270, 360, 3000, 3000, 0, 3, 90),
            ]
        );

    [Fact]
    public void The_turning_vertical_S_has_the_flown_segments() =>
        Agrees(
            "vertical-s-turning",
            new DrillEntry(270, 5500, 90),
            [
                // f09-vertical-s-turning
                new("level-straight", 0, 30, 270, 270, 5500, 5500, 0, 0, 90),
                new("climb-turn", 30, 90, 270, 90, 5500, 6000, 500, 3, 90),
                new("descend-turn", 90, 150, 90, 270, 6000, 5500, -500, -3, 90),
                new("climb-turn", 150, 210, 270, 90, 5500, 6000, 500, 3, 90),
                new("descend-turn", 210, 270, 90, 270, 6000, 5500, -500, 3, 90),
                new("climb-turn", 270, 330, 270, 90, 5500, 6000, 500, -3, 90),
                new("descend-turn", 330, 390, 90, 270, 6000, 5500, -500, -3, 90),
                new("level-straight", 390, 420, 270, 270, 5500, 5500, 0, 0, 90),
            ]
        );

    [Fact]
    public void The_racetrack_has_the_flown_segments() =>
        Agrees(
            "racetrack",
            new DrillEntry(180, 4500, 90),
            [
                // f11-racetrack
                new("level-straight", 0, 180, 180, 180, 4500, 4500, 0, 0, 90),
                new("level-turn", 180, 240, 180, 360, 4500, 4500, 0, 3, 90),
                new("level-straight", 240, 300, 360, 360, 4500, 4500, 0, 0, 90),
                new("level-turn", 300, 360, 360, 180, 4500, 4500, 0, 3, 90),
                new("level-straight", 360, 420, 180, 180, 4500, 4500, 0, 0, 90),
            ]
        );

    [Fact]
    public void The_timed_turns_have_the_flown_segments() =>
        Agrees(
            "timed-turns",
            new DrillEntry(30, 6000, 90),
            [
                // f13-timed-turns
                new("level-straight", 0, 60, 30, 30, 6000, 6000, 0, 0, 90),
                new("level-turn", 60, 90, 30, 120, 6000, 6000, 0, 3, 90),
                new("level-straight", 90, 120, 120, 120, 6000, 6000, 0, 0, 90),
                new("level-turn", 120, 180, 120, 300, 6000, 6000, 0, -3, 90),
                new("level-straight", 180, 210, 300, 300, 6000, 6000, 0, 0, 90),
                new("level-turn", 210, 330, 300, 300, 6000, 6000, 0, 3, 90),
                new("level-straight", 330, 390, 300, 300, 6000, 6000, 0, 0, 90),
            ]
        );

    private static void Agrees(string slug, DrillEntry entry, Row[] expected)
    {
        var timeline = DrillTimeline.Resolve(Catalogue.Templates.Single(t => t.Slug == slug), entry);

        Assert.Equal(
            expected,
            timeline.Segments.Select(s => new Row(
                Kebab(s.Kind),
                s.StartS,
                s.EndS,
                s.StartHeadingMagDeg,
                s.EndHeadingMagDeg,
                s.StartAltitudeFt,
                s.EndAltitudeFt,
                s.VerticalSpeedFpm,
                s.TurnRateDegPerS,
                s.AirspeedKt
            ))
        );
    }

    private static string Kebab(SegmentKind kind) => System.Text.Json.JsonNamingPolicy.KebabCaseLower.ConvertName(kind.ToString());
}
