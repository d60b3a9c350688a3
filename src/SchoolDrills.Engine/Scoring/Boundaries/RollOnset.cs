using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>When a pilot rolls into a turn, out of one, or from one into the other.</summary>
internal static class RollOnset
{
    /// <summary>
    /// The first roll toward a new turn or out of one, null where the segments have none between them or none can be seen.
    /// </summary>
    public static Onset? At(FlightState state, TimelineSegment a, TimelineSegment b, SegmentMatch before, SegmentMatch after)
    {
        var change = b.TurnRateDegPerS - a.TurnRateDegPerS;
        if (change == 0)
            return null;
        var (fromS, toS) = BoundaryRefiner.Window(before, after);
        var rollTimeS = HandlingModel.RollS * Math.Sqrt(Math.Max(1, Math.Abs(change) / HandlingModel.RollRateChangeDegPerS));
        var rolls = HeadingBreak(state, new(fromS, toS, after.StartS, rollTimeS, change));
        if (a.TurnRateDegPerS != 0)
            return (rolls ?? (b.TurnRateDegPerS == 0 ? WingsLevel(state, a, fromS, after.StartS) : null)) - HandlingModel.RollOutDelayS;
        // Begun to the wrong side, the turn is found where it comes back over the old heading, with no roll of its own there.
        var wrongWay = WrongWayStart(state, change, fromS, rolls?.AtS ?? after.StartS);
        // A turn flown to the wrong side throughout begins with the opposite roll.
        rolls = wrongWay ?? rolls ?? HeadingBreak(state, new(fromS, toS, after.StartS, HandlingModel.RollS, -change));
        return rolls - HandlingModel.RollInDelayS;
    }

    /// <summary>
    /// When a turn was begun to the wrong side straight from the segment before it, although other flight seems to lie between; null
    /// where it was not.
    /// </summary>
    public static Onset? WrongWayFrom(FlightState state, TimelineSegment a, TimelineSegment b, SegmentMatch before, SegmentMatch after)
    {
        if (a.TurnRateDegPerS != 0 || b.TurnRateDegPerS == 0)
            return null;
        var wrongWay = WrongWayStart(state, b.TurnRateDegPerS, before.StartS, after.StartS);
        return wrongWay is { AtS: var atS } && Math.Abs(HeadingDeg(atS) - HeadingDeg(before.EndS)) < HandlingModel.WrongWayOnsetDeg
            ? wrongWay - HandlingModel.RollInDelayS
            : null;

        double HeadingDeg(double timeS) => state.HeadingMagDeg[Math.Min(SortedTimes.LowerBound(state.TimeS, timeS), state.Count - 1)];
    }

    private static Onset? HeadingBreak(FlightState state, BreakpointSearch search) =>
        BreakpointFit.Start(state.TimeS, state.HeadingMagDeg, search)?.With(BoundaryModel.LeastRollSigmaS, BoundaryModel.RollSpread);

    /// <summary>When the pilot rolled out of the last of a turn that ended well before its segment did.</summary>
    private static Onset? WingsLevel(FlightState state, TimelineSegment turn, double fromS, double toS)
    {
        for (var i = Math.Min(SortedTimes.LowerBound(state.TimeS, toS), state.Count - 1); i > 0 && state.TimeS[i] > fromS; i--)
        {
            if (state.TurnRateDegPerS[i] / turn.TurnRateDegPerS > BoundaryModel.TurningShare)
                return new(state.TimeS[i] - (HandlingModel.RollS / 2), BoundaryModel.WingsLevelSigmaS);
        }

        return null;
    }

    /// <summary>When a turn begun to the wrong side was begun; null where it was not.</summary>
    private static Onset? WrongWayStart(FlightState state, double change, double fromS, double rightS)
    {
        var straight = SortedTimes.LowerBound(state.TimeS, Math.Max(fromS, rightS - HandlingModel.WrongWayS));
        var turned = Math.Min(SortedTimes.LowerBound(state.TimeS, rightS), state.Count - 1);
        // The turn to the right side may be seen only once it has come back to the old heading.
        var farthest = turned;
        for (var i = straight; i < turned; i++)
        {
            if ((state.HeadingMagDeg[i] - state.HeadingMagDeg[farthest]) * Math.Sign(change) < 0)
                farthest = i;
        }

        if (
            (state.HeadingMagDeg[farthest] - state.HeadingMagDeg[straight]) * Math.Sign(change) > -HandlingModel.WrongWayOnsetDeg
            || !WrongTurn.IsIn(state, straight, farthest, change)
        )
        {
            return null;
        }

        const double Half = HandlingModel.WrongWayS / 2;
        var toS = state.TimeS[farthest];
        return HeadingBreak(state, new(fromS, toS, toS - Half, HandlingModel.RollS, -change, Half, AheadS: 0, AheadScaleS: Half));
    }
}
