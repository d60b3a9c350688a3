using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Web.Tests.Charts;

/// <summary>
/// Four sides of 3:30, each 0:30 straight, 2:00 a full circle over 1,000 ft, 0:30 straight, 0:30 a quarter right: the circles of
/// sides 1 and 3 to the right and up, of 2 and 4 to the left and down. Common practice, laid out by hand.
/// </summary>
internal static class BoxDrill
{
    public static DrillTimeline Timeline()
    {
        var segments = new List<TimelineSegment>();
        double headingDeg = 360,
            altitudeFt = 3000,
            atS = 0;
        for (var side = 0; side < 4; side++)
        {
            var up = side % 2 == 0 ? 1 : -1;
            Add(SegmentKind.LevelStraight, "Straight", 30, 0, 0);
            Add(
                up > 0 ? SegmentKind.ClimbTurn : SegmentKind.DescendTurn,
                up > 0 ? "Climbing right turn" : "Descending left turn",
                120,
                360 * up,
                1000 * up
            );
            Add(SegmentKind.LevelStraight, "Clean-up", 30, 0, 0);
            Add(SegmentKind.LevelTurn, "Corner", 30, 90, 0);
        }

        return new DrillTimeline(
            atS,
            segments,
            [.. segments.Skip(1).Select(s => new Gate(s.StartS, s.StartHeadingMagDeg, s.StartAltitudeFt, s.Name))],
            [],
            [],
            []
        );

        void Add(SegmentKind kind, string name, double lengthS, double turnDeg, double climbFt)
        {
            segments.Add(
                new TimelineSegment
                {
                    Index = segments.Count,
                    Name = name,
                    Kind = kind,
                    StartS = atS,
                    EndS = atS + lengthS,
                    StartHeadingMagDeg = headingDeg,
                    EndHeadingMagDeg = headingDeg + turnDeg,
                    TurnDeg = turnDeg,
                    TurnRateDegPerS = turnDeg / lengthS,
                    StartAltitudeFt = altitudeFt,
                    EndAltitudeFt = altitudeFt + climbFt,
                    VerticalSpeedFpm = climbFt / lengthS * 60,
                    StartAirspeedKt = 90,
                    AirspeedKt = 90,
                }
            );
            headingDeg = ((headingDeg + turnDeg + 359) % 360) + 1;
            altitudeFt += climbFt;
            atS += lengthS;
        }
    }

    /// <summary>The timeline flown at 46 m/s in still air, a point a second.</summary>
    public static DrillPicture Picture(DrillTimeline timeline)
    {
        List<double> timeS = [],
            eastM = [],
            northM = [],
            altitudeFt = [];
        List<int> index = [];
        double east = 0,
            north = 0;
        for (var t = 0; t <= timeline.DurationS; t++)
        {
            var segment = timeline.Segments.Last(s => s.StartS <= t || s.Index == 0);
            var heading = (segment.StartHeadingMagDeg + segment.TurnedDegAt(t - segment.StartS)) * Math.PI / 180;
            timeS.Add(t);
            eastM.Add(east);
            northM.Add(north);
            altitudeFt.Add(segment.AltitudeFtAt(t - segment.StartS));
            index.Add(segment.Index);
            east += 46 * Math.Sin(heading);
            north += 46 * Math.Cos(heading);
        }

        return new DrillPicture([.. timeS], [.. eastM], [.. northM], [.. altitudeFt], [.. index]);
    }
}
