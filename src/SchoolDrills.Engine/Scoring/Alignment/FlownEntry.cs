using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Heading and altitude from which a drill was flown, as a first reading shows them.</summary>
/// <param name="TurnedDeg">Heading flown less the one planned, degrees.</param>
/// <param name="RaisedFt">Altitude flown less the one planned, feet.</param>
internal sealed record FlownEntry(double TurnedDeg, double RaisedFt)
{
    /// <summary>The entry that fits most ends of a reading's segments; null where none was flown whole.</summary>
    public static FlownEntry? Of(AlignmentGrid grid, DrillTimeline timeline, Alignment alignment)
    {
        List<double> turned = [],
            raised = [];
        foreach (var match in alignment.Matches.Where(m => m.Status == SegmentStatus.Flown))
        {
            var segment = timeline.Segments[match.Index];
            var end = grid.IndexAt(match.EndS);
            if (!double.IsFinite(grid.HeadingDeg[end]) || !double.IsFinite(grid.AltitudeFt[end]))
                continue;
            turned.Add(grid.HeadingDeg[end] - segment.EndHeadingMagDeg);
            raised.Add(grid.AltitudeFt[end] - segment.EndAltitudeFt);
        }

        if (turned.Count == 0)
            return null;
        // A median on the circle: the one that the others lie nearest to.
        var middle = turned.MinBy(one => turned.Sum(other => Math.Abs(Angles.DifferenceDeg(other, one))));
        raised.Sort();
        return new FlownEntry(middle, raised[raised.Count / 2]);
    }

    /// <summary>Heading at the end of a segment, degrees.</summary>
    public double HeadingDegAt(TimelineSegment segment) => segment.EndHeadingMagDeg + TurnedDeg;

    /// <summary>Altitude at the end of a segment, feet.</summary>
    public double AltitudeFtAt(TimelineSegment segment) => segment.EndAltitudeFt + RaisedFt;
}
