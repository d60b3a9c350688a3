using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Two attempts at one drill laid over each other, segment by segment, each from its own flown start.</summary>
/// <param name="Segments">Segments that at least one attempt flew, in the drill's order.</param>
/// <param name="Shift">How the other attempt was moved to begin from this one's entry.</param>
public sealed record FlightOverlay(IReadOnlyList<OverlaidSegment> Segments, EntryShift Shift)
{
    /// <summary>
    /// Lays one attempt over another. Every segment gets a place as long as the longer of the two, and both start where it starts:
    /// a late start is compared with an early one like with like, and does not put off the segments after it.
    /// </summary>
    public static FlightOverlay Of(FlownPlot one, FlownPlot other)
    {
        var moved = other.From(one.Entry);
        var segments = new List<OverlaidSegment>();
        double startS = 0;
        foreach (var index in one.Segments.Concat(moved.Segments).Select(s => s.Index).Distinct().Order())
        {
            var (mine, theirs) = (Segment(one, index), Segment(moved, index));
            var lengthS = Math.Max(mine?.DurationS ?? 0, theirs?.DurationS ?? 0);
            segments.Add(new OverlaidSegment(index, (mine ?? theirs)!.Name, (mine ?? theirs)!.Kind, startS, lengthS, mine, theirs));
            startS += lengthS;
        }

        return new FlightOverlay(segments, EntryShift.Between(other.Entry, one.Entry));
    }

    private static SegmentTrace? Segment(FlownPlot plot, int index) => plot.Segments.FirstOrDefault(s => s.Index == index);
}

/// <summary>One segment of both attempts.</summary>
/// <param name="Index">Position in the drill, from 0.</param>
/// <param name="Name">Name as the template gives it.</param>
/// <param name="Kind">What is to be flown.</param>
/// <param name="StartS">Where both start on the common axis, seconds.</param>
/// <param name="LengthS">The longer of the two, seconds.</param>
/// <param name="This">This attempt; null where it was not flown.</param>
/// <param name="Other">The attempt it is compared with, moved to this one's entry; null where it was not flown.</param>
public sealed record OverlaidSegment(
    int Index,
    string Name,
    SegmentKind Kind,
    double StartS,
    double LengthS,
    SegmentTrace? This,
    SegmentTrace? Other
);

/// <summary>How far one entry is from another.</summary>
/// <param name="HeadingDeg">Turned by, degrees, right positive.</param>
/// <param name="AltitudeFt">Raised by, feet.</param>
/// <param name="AirspeedKt">Made faster by, knots.</param>
/// <param name="Mirrored">Left and right exchanged.</param>
public sealed record EntryShift(double HeadingDeg, double AltitudeFt, double AirspeedKt, bool Mirrored)
{
    /// <summary>What brings one entry to the other.</summary>
    public static EntryShift Between(DrillEntry from, DrillEntry to) =>
        new(
            Angles.DifferenceDeg(to.HeadingMagDeg, from.HeadingMagDeg),
            to.AltitudeFt - from.AltitudeFt,
            to.AirspeedKt - from.AirspeedKt,
            to.Mirrored != from.Mirrored
        );
}
