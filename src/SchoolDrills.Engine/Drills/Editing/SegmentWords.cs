using System.Globalization;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>A segment in an instructor's words: <c>right 360° at 3°/s, climb 1,000 ft at 500 fpm</c>.</summary>
public static class SegmentWords
{
    /// <summary>What a segment does; of a group, how often and how many rows.</summary>
    /// <param name="segment">The segment.</param>
    public static string Of(Segment segment)
    {
        if (segment.Segments.Count > 0)
        {
            var rows = segment.Segments.Count == 1 ? "1 segment" : $"{Number(segment.Segments.Count)} segments";
            return $"{rows}, {Times(segment.Repeat ?? 1)}";
        }

        var parts = new List<string>(4);
        if (segment.TurnDeg is { } turn)
            parts.Add(Turn(turn) + (segment.TurnRateDegPerS is { } rate ? $" at {Number(rate)}°/s" : ""));
        if (segment.ClimbFt is { } climb)
            parts.Add(Climb(climb) + (segment.VerticalSpeedFpm is { } fpm ? $" at {Number(fpm)} fpm" : ""));
        if (segment.SpeedChangeKt is { } speed)
            parts.Add(Speed(speed));
        if (segment.DurationS is { } time)
            parts.Add(parts.Count == 0 ? $"straight and level for {Clock(time)}" : $"in {Clock(time)}");
        return parts.Count == 0 ? "nothing yet" : string.Join(", ", parts);
    }

    /// <summary>once, twice, 3 times.</summary>
    internal static string Times(int times) =>
        times switch
        {
            1 => "once",
            2 => "twice",
            _ => $"{Number(times)} times",
        };

    internal static string Turn(double turnDeg) => $"{(turnDeg < 0 ? "left" : "right")} {Number(Math.Abs(turnDeg))}°";

    internal static string Climb(double climbFt) => $"{(climbFt < 0 ? "descend" : "climb")} {Number(Math.Abs(climbFt))} ft";

    internal static string Speed(double speedKt) => $"{(speedKt < 0 ? "slow" : "speed up")} by {Number(Math.Abs(speedKt))} kt";

    /// <summary>Minutes and seconds; a part of a second, where there is one, in seconds.</summary>
    internal static string Clock(double timeS) =>
        timeS == Math.Floor(timeS) && timeS is >= 0 and < 1e6 ? TimelineCalls.Clock(timeS) : $"{Number(timeS)} s";

    internal static string Number(double value) => value.ToString("#,0.##", CultureInfo.InvariantCulture);
}
