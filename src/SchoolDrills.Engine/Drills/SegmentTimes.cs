using System.Globalization;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Drills;

/// <summary>One of the things that end a segment: how long it takes, and the calculation in words.</summary>
/// <param name="S">Time taken, seconds.</param>
/// <param name="Sum">The calculation in words, such as "360° at 3°/s takes 120 s".</param>
internal readonly record struct SegmentTime(double S, string Sum);

/// <summary>How long a segment takes by each thing it states: its length, its turn, its change of altitude.</summary>
internal static class SegmentTimes
{
    /// <summary>Every stated time; the first sets the segment's length.</summary>
    public static IReadOnlyList<SegmentTime> Of(Segment segment)
    {
        var times = new List<SegmentTime>(3);
        if (segment.DurationS is { } durationS)
            times.Add(new(durationS, $"durationS says {Text(durationS)} s"));
        if (segment.TurnDeg is { } turnDeg)
        {
            var rate = segment.TurnRateDegPerS ?? TurnGeometry.StandardRateDegPerS;
            var turnS = Math.Abs(turnDeg) / rate;
            times.Add(new(turnS, $"{Text(Math.Abs(turnDeg))}° at {Text(rate)}°/s takes {Text(turnS)} s"));
        }

        if (segment.ClimbFt is { } climbFt)
        {
            var verticalSpeed = segment.VerticalSpeedFpm ?? DrillModel.UsualVerticalSpeedFpm;
            var climbS = Math.Abs(climbFt) / verticalSpeed * 60;
            times.Add(new(climbS, $"{Text(Math.Abs(climbFt))} ft at {Text(verticalSpeed)} fpm takes {Text(climbS)} s"));
        }

        return times;
    }

    private static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
