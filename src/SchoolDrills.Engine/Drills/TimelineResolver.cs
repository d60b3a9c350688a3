using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Drills;

/// <summary>Turns a template without problems into a timeline.</summary>
internal static class TimelineResolver
{
    /// <summary>The template resolved for an entry.</summary>
    public static DrillTimeline Resolve(DrillTemplate template, DrillEntry entry)
    {
        var flat = FlatSegments.Of(template);
        var segments = new List<TimelineSegment>(flat.Count);
        // The template's own clock at each segment's start: half rate stretches turns together with the checks and tasks timed in them.
        var templateStartS = new List<double>(flat.Count);
        var (templateS, headingDeg) = (0.0, entry.HeadingMagDeg);
        foreach (var (name, segment, _) in flat)
        {
            var nominalS = SegmentTimes.Of(segment)[0].S;
            segments.Add(Resolve(name, segment, nominalS, segments is [.., var last] ? last : null, entry, ref headingDeg));
            templateStartS.Add(templateS);
            templateS += nominalS;
        }

        (double S, int Index) OnClock(double atS)
        {
            var found = templateStartS.BinarySearch(atS);
            var index = found >= 0 ? found : Math.Max(0, ~found - 1);
            var endS = index + 1 < flat.Count ? templateStartS[index + 1] : templateS;
            var share = Math.Min(1, (atS - templateStartS[index]) / (endS - templateStartS[index]));
            return (segments[index].StartS + (share * segments[index].DurationS), index);
        }

        TimedCheck Timed(Check check)
        {
            var (fromS, index) = OnClock(check.FromS);
            return new(
                check.Name,
                check.Kind == CheckKind.Flow ? "flow" : "checklist",
                check.Items,
                fromS,
                OnClock(check.FromS + check.WindowS).S,
                index
            );
        }

        TimedLoadTask Given(LoadTask task)
        {
            var (atS, index) = OnClock(task.AtS);
            return new(task.Name, task.Script, task.ExpectedAnswer, atS, index);
        }

        return new DrillTimeline(
            segments[^1].EndS,
            segments,
            [.. TimelineCalls.Gates(segments)],
            [.. TimelineCalls.Cues(segments)],
            [.. template.Checks.OrderBy(c => c.FromS).Select(Timed)],
            [.. template.LoadTasks.OrderBy(t => t.AtS).Select(Given)]
        );
    }

    private static TimelineSegment Resolve(
        string name,
        Segment segment,
        double nominalS,
        TimelineSegment? before,
        DrillEntry entry,
        ref double headingDeg
    )
    {
        var turnDeg = (entry.Mirrored ? -1 : 1) * (segment.TurnDeg ?? 0);
        var climbFt = segment.ClimbFt ?? 0;
        var durationS = nominalS * (entry.HalfRate && turnDeg != 0 ? 2 : 1);
        var startS = before?.EndS ?? 0;
        var startAltitudeFt = before?.EndAltitudeFt ?? entry.AltitudeFt;
        var startAirspeedKt = before?.AirspeedKt ?? entry.AirspeedKt;
        var startHeadingDeg = headingDeg;
        headingDeg += turnDeg;
        return new TimelineSegment
        {
            Index = before is null ? 0 : before.Index + 1,
            Name = name,
            Kind = KindOf(turnDeg, climbFt, segment.SpeedChangeKt ?? 0),
            StartS = startS,
            EndS = startS + durationS,
            StartHeadingMagDeg = Compass(startHeadingDeg),
            EndHeadingMagDeg = Compass(headingDeg),
            TurnDeg = turnDeg,
            StartAltitudeFt = startAltitudeFt,
            EndAltitudeFt = startAltitudeFt + climbFt,
            // Rates by the segment's own length, so that stated times a fraction of a second apart still meet at its end.
            TurnRateDegPerS = turnDeg / durationS,
            VerticalSpeedFpm = climbFt * 60 / durationS,
            StartAirspeedKt = startAirspeedKt,
            AirspeedKt = startAirspeedKt + (segment.SpeedChangeKt ?? 0),
            Overrides = segment.Tolerances,
        };
    }

    private static SegmentKind KindOf(double turnDeg, double climbFt, double speedChangeKt) =>
        (turnDeg != 0, Math.Sign(climbFt)) switch
        {
            (false, > 0) => SegmentKind.ClimbStraight,
            (false, < 0) => SegmentKind.DescendStraight,
            (true, > 0) => SegmentKind.ClimbTurn,
            (true, < 0) => SegmentKind.DescendTurn,
            (true, _) => SegmentKind.LevelTurn,
            (false, _) => speedChangeKt != 0 ? SegmentKind.SpeedChange : SegmentKind.LevelStraight,
        };

    /// <summary>A heading, rounded, so that a full circle ends on exactly the heading it began with.</summary>
    public static double Compass(double headingDeg) => Angles.NormalizeDeg(Math.Round(headingDeg, 6));
}
