using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Moves each boundary to the moment the pilot began to act, finer than the sample interval: heading (or altitude) about it is fitted by
/// a line that starts to bend at the boundary, as the aeroplane rolls (or pitches) toward its new rate.
/// </summary>
public static class BoundaryRefiner
{
    /// <summary>Refines every boundary between flown segments, and sets the outer ends of straights by the clock.</summary>
    /// <param name="state">Reconstructed flight.</param>
    /// <param name="timeline">The drill resolved for its entry.</param>
    /// <param name="alignment">Boundaries as found.</param>
    public static Alignment Refine(FlightState state, DrillTimeline timeline, Alignment alignment)
    {
        var matches = alignment.Matches.ToArray();
        var flown = Enumerable.Range(0, matches.Length).Where(k => matches[k].Status != SegmentStatus.Skipped).ToArray();
        for (var n = 1; n < flown.Length; n++)
        {
            var (a, b) = (flown[n - 1], flown[n]);
            if (matches[b].StartS - matches[a].EndS > HandlingModel.HesitationS)
                continue;
            var atS = BeginsAt(state, timeline.Segments[a], timeline.Segments[b], matches[a], matches[b]) ?? matches[b].StartS;
            atS = Math.Clamp(atS, matches[a].StartS + 1, matches[b].EndS - 1);
            matches[a] = matches[a] with { EndS = atS };
            matches[b] = matches[b] with { StartS = atS };
        }

        alignment = WithOuterEnds(state, timeline, alignment with { Matches = matches });
        return alignment with { ClockStartS = DrillClock.StartS(timeline.Segments, alignment) };
    }

    private static double? BeginsAt(FlightState state, TimelineSegment a, TimelineSegment b, SegmentMatch before, SegmentMatch after)
    {
        var pitchS = a.VerticalSpeedFpm == b.VerticalSpeedFpm ? null : PitchOnset.StartS(state, a, b, before, after);
        if (RollsAt(state, a, b, before, after) is not { } rollS)
            return pitchS;
        if (b.TurnRateDegPerS == 0 && b.VerticalSpeedFpm == 0)
        {
            return
                a.VerticalSpeedFpm != 0
                && PitchOnset.LevelOffS(state, a, rollS, after.EndS - BoundaryModel.LevelOffMarginS) is { } levelS
                && levelS > rollS + HandlingModel.LaterLevelOffS
                ? levelS
                : rollS;
        }

        // A forgotten reversal shows late in the heading, which has gone past the end of the old turn; the change of altitude shows when
        // the pilot began.
        return
            a.TurnRateDegPerS * b.TurnRateDegPerS < 0
            && pitchS < rollS - HandlingModel.EarlierPitchS
            && TurnedDeg(state, a, before.StartS, rollS) > Math.Abs(a.TurnDeg) + HandlingModel.WrongWayOnsetDeg
            ? pitchS
            : rollS;
    }

    /// <summary>
    /// The first roll toward a new turn or out of one, null where the segments have none between them or none can be seen.
    /// </summary>
    private static double? RollsAt(FlightState state, TimelineSegment a, TimelineSegment b, SegmentMatch before, SegmentMatch after)
    {
        var change = b.TurnRateDegPerS - a.TurnRateDegPerS;
        if (change == 0)
            return null;
        var (fromS, toS) = Window(before, after);
        var rollTimeS = HandlingModel.RollS * Math.Max(1, Math.Abs(change) / HandlingModel.RollRateChangeDegPerS);
        var rollS = HeadingBreakS(state, new(fromS, toS, after.StartS, rollTimeS, change));
        if (a.TurnRateDegPerS != 0)
            return (rollS ?? (b.TurnRateDegPerS == 0 ? WingsLevelS(state, a, fromS, after.StartS) : null)) - HandlingModel.RollOutDelayS;
        // A turn flown to the wrong side throughout begins with the opposite roll.
        rollS ??= HeadingBreakS(state, new(fromS, toS, after.StartS, HandlingModel.RollS, -change));
        return (rollS is { } rightS ? WrongWayStartS(state, change, fromS, rightS) ?? rightS : null) - HandlingModel.RollInDelayS;
    }

    /// <summary>Where a boundary is looked for: neither neighbor's other boundary may come into the window.</summary>
    internal static (double FromS, double ToS) Window(SegmentMatch before, SegmentMatch after) =>
        (before.StartS + (before.DurationS * BoundaryModel.OutBeforeShare), after.EndS - (after.DurationS * BoundaryModel.OutAfterShare));

    private static double? HeadingBreakS(FlightState state, BreakpointSearch search) =>
        BreakpointFit.StartS(state.TimeS, state.HeadingMagDeg, search);

    /// <summary>When the pilot rolled out of the last of a turn that ended well before its segment did.</summary>
    private static double? WingsLevelS(FlightState state, TimelineSegment turn, double fromS, double toS)
    {
        for (var i = Math.Min(SortedTimes.LowerBound(state.TimeS, toS), state.Count - 1); i > 0 && state.TimeS[i] > fromS; i--)
        {
            if (state.TurnRateDegPerS[i] / turn.TurnRateDegPerS > BoundaryModel.TurningShare)
                return state.TimeS[i] - (HandlingModel.RollS / 2);
        }

        return null;
    }

    private static double TurnedDeg(FlightState state, TimelineSegment turn, double startS, double endS)
    {
        double At(double timeS) => state.HeadingMagDeg[Math.Min(SortedTimes.LowerBound(state.TimeS, timeS), state.Count - 1)];
        return (At(endS) - At(startS)) * Math.Sign(turn.TurnDeg);
    }

    /// <summary>When a turn begun to the wrong side was begun; null where it was not.</summary>
    private static double? WrongWayStartS(FlightState state, double change, double fromS, double rightS)
    {
        var turned = SortedTimes.LowerBound(state.TimeS, rightS);
        var straight = SortedTimes.LowerBound(state.TimeS, Math.Max(fromS, rightS - HandlingModel.WrongWayS));
        if (
            turned >= state.Count
            || (state.HeadingMagDeg[turned] - state.HeadingMagDeg[straight]) * Math.Sign(change) > -HandlingModel.WrongWayOnsetDeg
        )
        {
            return null;
        }

        const double Half = HandlingModel.WrongWayS / 2;
        return WrongTurn.IsIn(state, straight, turned, change)
            ? HeadingBreakS(state, new(fromS, rightS, rightS - Half, HandlingModel.RollS, -change, SearchS: Half))
            : null;
    }

    /// <summary>
    /// A straight's outer end is put where the clock has it; a turn that closes the drill ends where the pilot begins to roll out; what
    /// the recording cuts ends with it.
    /// </summary>
    private static Alignment WithOuterEnds(FlightState state, DrillTimeline timeline, Alignment alignment)
    {
        double firstS = state.TimeS[0],
            lastS = state.TimeS[^1];
        var segments = timeline.Segments;
        var matches = alignment.Matches.ToArray();
        var (first, last) = (alignment.Flown.First().Index, alignment.Flown.Last().Index);
        alignment = alignment with { Matches = matches };
        if (alignment.CutBefore)
        {
            matches[first] = matches[first] with { StartS = firstS };
            if (matches[first].Status == SegmentStatus.Partial)
                matches[first] = matches[first] with { CutS = Math.Max(0, segments[first].DurationS - matches[first].DurationS) };
        }
        else if (first == 0 && segments[0].Kind == SegmentKind.LevelStraight && last > 0)
        {
            matches[0] = matches[0] with { StartS = Math.Clamp(DrillClock.StartS(segments, alignment), firstS, matches[0].EndS - 1) };
        }

        if (alignment.CutAfter)
        {
            matches[last] = matches[last] with { EndS = lastS };
        }
        else if (segments[last].TurnRateDegPerS is not 0 and var rateDegPerS)
        {
            var (startS, endS) = (matches[last].StartS + BoundaryModel.TurnEstablishedS, matches[last].EndS);
            var rollOutS = HeadingBreakS(state, new(startS, lastS, endS, HandlingModel.RollS, -rateDegPerS)) - HandlingModel.RollOutDelayS;
            matches[last] = matches[last] with { EndS = rollOutS ?? endS };
        }
        else if (last > 0 && last == matches.Length - 1 && segments[last].Kind == SegmentKind.LevelStraight)
        {
            var endS = DrillClock.StartS(segments, alignment) + segments[last].EndS;
            if (Math.Abs(endS - matches[last].StartS - segments[last].DurationS) > BoundaryModel.ClosingStraightMostOffS)
                endS = matches[last].StartS + segments[last].DurationS;
            matches[last] = matches[last] with { EndS = Math.Clamp(endS, matches[last].StartS + 1, lastS) };
        }

        return alignment;
    }
}
