using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Charts;

/// <summary>The drawn drill in words: what repeats is said once.</summary>
internal static class DrillDescription
{
    private static readonly string[] Counts =
    [
        "",
        "",
        "Two",
        "Three",
        "Four",
        "Five",
        "Six",
        "Seven",
        "Eight",
        "Nine",
        "Ten",
        "Eleven",
        "Twelve",
    ];

    public static string Describe(string title, DrillTimeline? timeline)
    {
        if (timeline is not { Segments.Count: > 0 })
            return title;
        var segments = timeline.Segments;
        var part = Period(segments);
        var times = segments.Count / part;
        var steps = string.Join("; ", segments.Take(part).Select(s => Step(s, mirrored: times > 1 && !Same(segments, part))));
        var entry = $"from heading {Figures.Heading(segments[0].StartHeadingMagDeg)} at {Figures.Altitude(segments[0].StartAltitudeFt)}";
        var head = times > 1 ? $"{(times < Counts.Length ? Counts[times] : Figures.Whole(times))} like parts, each: {steps}" : steps;
        return $"{title}, {Figures.Clock(timeline.DurationS)} {entry}. {char.ToUpperInvariant(head[0])}{head[1..]}.";
    }

    // Length of the shortest run of segments that the drill repeats, left and right, up and down set aside.
    private static int Period(IReadOnlyList<TimelineSegment> segments)
    {
        for (var part = 1; part <= segments.Count / 2; part++)
        {
            if (
                segments.Count % part == 0
                && Enumerable.Range(part, segments.Count - part).All(i => Alike(segments[i], segments[i - part]))
            )
            {
                return part;
            }
        }

        return segments.Count;
    }

    private static bool Alike(TimelineSegment a, TimelineSegment b) =>
        Math.Abs(a.DurationS - b.DurationS) < 1
        && Math.Abs(Math.Abs(a.TurnDeg) - Math.Abs(b.TurnDeg)) < 1
        && Math.Abs(Math.Abs(Climb(a)) - Math.Abs(Climb(b))) < 1;

    private static bool Same(IReadOnlyList<TimelineSegment> segments, int part) =>
        Enumerable
            .Range(part, segments.Count - part)
            .All(i =>
                Math.Abs(segments[i].TurnDeg - segments[i - part].TurnDeg) < 1
                && Math.Abs(Climb(segments[i]) - Climb(segments[i - part])) < 1
            );

    private static double Climb(TimelineSegment segment) => segment.EndAltitudeFt - segment.StartAltitudeFt;

    // In parts that are not all flown the same way, only what they share is said.
    private static string Step(TimelineSegment segment, bool mirrored)
    {
        var climb = Climb(segment);
        var height =
            Math.Abs(climb) < 1 ? ""
            : mirrored ? $" with {Figures.Altitude(Math.Abs(climb))} of climb or descent"
            : $" {(climb > 0 ? "climbing" : "descending")} {Figures.Altitude(Math.Abs(climb))}";
        var speed = Math.Abs(segment.AirspeedKt - segment.StartAirspeedKt) < 1 ? "" : $" to {Figures.Quantity(segment.AirspeedKt, "kt")}";
        var side =
            mirrored ? ""
            : segment.TurnDeg > 0 ? "right "
            : "left ";
        var course = Math.Abs(segment.TurnDeg) < 1 ? "straight" : $"{side}turn of {Figures.Quantity(Math.Abs(segment.TurnDeg), "deg")}";
        return $"{course}{height}{speed}, {Figures.Clock(segment.DurationS)}";
    }
}
