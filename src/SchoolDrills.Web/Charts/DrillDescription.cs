using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Charts;

/// <summary>The drawn drill in words: what repeats is said once.</summary>
internal static class DrillDescription
{
    private static string[] Counts =>
        [
            "",
            "",
            T["Two"],
            T["Three"],
            T["Four"],
            T["Five"],
            T["Six"],
            T["Seven"],
            T["Eight"],
            T["Nine"],
            T["Ten"],
            T["Eleven"],
            T["Twelve"],
        ];

    public static string Describe(string title, DrillTimeline? timeline)
    {
        if (timeline is not { Segments.Count: > 0 })
            return title;
        var segments = timeline.Segments;
        var part = Period(segments);
        var times = segments.Count / part;
        var steps = string.Join("; ", segments.Take(part).Select(s => Step(s, mirrored: times > 1 && !Same(segments, part))));
        string head =
            times > 1 ? T["{0} similar parts, each: {1}", times < Counts.Length ? Counts[times] : Figures.Whole(times), steps] : steps;
        return T[
            "{0}, {1} from heading {2} at {3}. {4}.",
            title,
            Figures.Clock(timeline.DurationS),
            Figures.Heading(segments[0].StartHeadingMagDeg),
            Figures.Altitude(segments[0].StartAltitudeFt),
            char.ToUpperInvariant(head[0]) + head[1..]
        ];
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
        var feet = Figures.Altitude(Math.Abs(climb));
        string? height =
            Math.Abs(climb) < 1 ? null
            : mirrored ? T["with {0} of climb or descent", feet].Value
            : climb > 0 ? T["climbing {0}", feet].Value
            : T["descending {0}", feet].Value;
        string? speed =
            Math.Abs(segment.AirspeedKt - segment.StartAirspeedKt) < 1
                ? null
                : T["to {0}", Figures.Quantity(segment.AirspeedKt, "kt")].Value;
        var turned = Figures.Quantity(Math.Abs(segment.TurnDeg), "deg");
        string course =
            Math.Abs(segment.TurnDeg) < 1 ? T["straight | in a sentence"]
            : mirrored ? T["turn of {0}", turned]
            : segment.TurnDeg > 0 ? T["right turn of {0}", turned]
            : T["left turn of {0}", turned];
        string?[] parts = [course, height, speed];
        return $"{string.Join(" ", parts.OfType<string>())}, {Figures.Clock(segment.DurationS)}";
    }
}
