using System.Globalization;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Drills;

/// <summary>Calls of a timeline: gates to be at, and cues before each segment.</summary>
internal static class TimelineCalls
{
    /// <summary>A gate at each segment's end, and at every half circle of a turn of a whole circle or more.</summary>
    public static IEnumerable<Gate> Gates(IReadOnlyList<TimelineSegment> segments)
    {
        for (var i = 0; i < segments.Count; i++)
        {
            var segment = segments[i];
            var halves = (int)Math.Floor(Math.Abs(segment.TurnDeg) / 180);
            for (var half = 1; halves >= 2 && 180 * half < Math.Abs(segment.TurnDeg); half++)
                yield return PartWay(segment, 180 * half);
            var next = i + 1 < segments.Count ? segments[i + 1] : null;
            var speed = segment.AirspeedKt == segment.StartAirspeedKt ? "" : $", {Number(segment.AirspeedKt)} kt";
            yield return new Gate(
                segment.EndS,
                segment.EndHeadingMagDeg,
                segment.EndAltitudeFt,
                $"{Clock(segment.EndS)}, {Ending(segment, next)}{speed}"
            );
        }
    }

    /// <summary>
    /// A cue for each segment, <see cref="DrillModel.CueLeadS"/> ahead or, where the segment before is shorter, at its start.
    /// </summary>
    public static IEnumerable<Cue> Cues(IReadOnlyList<TimelineSegment> segments)
    {
        for (var i = 0; i < segments.Count; i++)
        {
            var next = i + 1 < segments.Count ? segments[i + 1] : null;
            yield return i == 0
                ? new Cue(0, $"Start: {Describe(segments[0], next)}, {Number(segments[0].StartAirspeedKt)} kt")
                : new Cue(AheadS(segments[i - 1]), $"Coming up: {Describe(segments[i], next)}");
        }

        var last = segments[^1];
        yield return new Cue(
            AheadS(last),
            $"Coming up: end of the drill, {Heading(last.EndHeadingMagDeg)}, {Number(last.EndAltitudeFt)} ft"
        );
    }

    private static double AheadS(TimelineSegment before) => Math.Max(before.StartS, before.EndS - DrillModel.CueLeadS);

    private static Gate PartWay(TimelineSegment segment, double turnedDeg)
    {
        var share = turnedDeg / Math.Abs(segment.TurnDeg);
        var atS = segment.StartS + (share * segment.DurationS);
        var heading = TimelineResolver.Compass(segment.StartHeadingMagDeg + (Math.Sign(segment.TurnDeg) * turnedDeg));
        var climbedFt = share * (segment.EndAltitudeFt - segment.StartAltitudeFt);
        var altitude =
            climbedFt == 0
                ? $"{Number(segment.StartAltitudeFt)} ft"
                : $"{Number(Math.Abs(climbedFt))} ft {(climbedFt > 0 ? "up" : "down")}";
        var where = share == 0.5 ? "half-way" : $"{Number(turnedDeg)}° round";
        return new Gate(atS, heading, segment.StartAltitudeFt + climbedFt, $"{Clock(atS)}, {where}, {Heading(heading)}, {altitude}");
    }

    /// <summary>A whole segment in one call.</summary>
    private static string Describe(TimelineSegment segment, TimelineSegment? next)
    {
        var speed =
            segment.AirspeedKt == segment.StartAirspeedKt
                ? ""
                : $"{(segment.AirspeedKt < segment.StartAirspeedKt ? "slow" : "speed up")} to {Number(segment.AirspeedKt)} kt";
        var climbs = segment.VerticalSpeedFpm > 0 ? "climb" : "descend";
        var text = segment.Kind switch
        {
            SegmentKind.LevelStraight => $"straight and level for {Clock(segment.DurationS)}",
            SegmentKind.SpeedChange => $"{speed} in {Clock(segment.DurationS)}",
            SegmentKind.LevelTurn => $"level {Turn(segment)}",
            SegmentKind.ClimbTurn or SegmentKind.DescendTurn =>
                $"{climbs}ing {Turn(segment)}, {Number(Math.Abs(segment.VerticalSpeedFpm))} fpm",
            _ => $"{climbs} straight ahead, {Number(Math.Abs(segment.VerticalSpeedFpm))} fpm",
        };
        return speed.Length == 0 || segment.Kind == SegmentKind.SpeedChange
            ? $"{text}, {Ending(segment, next)}"
            : $"{text}, {speed}, {Ending(segment, next)}";
    }

    private static string Turn(TimelineSegment segment)
    {
        var rate = Math.Round(Math.Abs(segment.TurnRateDegPerS), 2) switch
        {
            TurnGeometry.StandardRateDegPerS => "standard rate",
            TurnGeometry.StandardRateDegPerS / 2 => "half standard rate",
            var other => $"{other.ToString("0.#", CultureInfo.InvariantCulture)}°/s",
        };
        return $"{(segment.TurnDeg > 0 ? "right" : "left")} {Number(Math.Abs(segment.TurnDeg))} at {rate}";
    }

    /// <summary>How a segment ends, given what follows: a roll-out or a reversal, a level-off or flight on through.</summary>
    private static string Ending(TimelineSegment segment, TimelineSegment? next)
    {
        var heading = (Math.Sign(segment.TurnDeg), Math.Sign(segment.TurnDeg) * Math.Sign(next?.TurnDeg ?? 0)) switch
        {
            (0, _) => "",
            (_, > 0) => "through ",
            (_, < 0) => "reverse at ",
            _ => "roll out ",
        };
        var vertical = Math.Sign(segment.VerticalSpeedFpm);
        var altitude = (vertical, vertical * Math.Sign(next?.VerticalSpeedFpm ?? 0)) switch
        {
            (0, _) => $"{Number(segment.EndAltitudeFt)} ft",
            (_, > 0) => $"through {Number(segment.EndAltitudeFt)} ft",
            (_, < 0) => $"{Number(segment.EndAltitudeFt)} ft and {(vertical > 0 ? "down" : "up")}",
            _ => $"level at {Number(segment.EndAltitudeFt)}",
        };
        return $"{heading}{Heading(segment.EndHeadingMagDeg)}, {altitude}";
    }

    /// <summary>A heading in three figures, north as 360.</summary>
    public static string Heading(double headingMagDeg)
    {
        var whole = Math.Round(headingMagDeg) % 360;
        return (whole == 0 ? 360 : whole).ToString("000", CultureInfo.InvariantCulture);
    }

    /// <summary>Minutes and seconds, to the nearest second.</summary>
    public static string Clock(double timeS)
    {
        var whole = (long)Math.Round(timeS, MidpointRounding.AwayFromZero);
        return string.Create(CultureInfo.InvariantCulture, $"{whole / 60}:{whole % 60:00}");
    }

    private static string Number(double value) => Math.Round(value, MidpointRounding.AwayFromZero).ToString(CultureInfo.InvariantCulture);
}
