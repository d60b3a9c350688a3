using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>When a pilot pitches toward a new climb or descent, or levels off.</summary>
internal static class PitchOnset
{
    /// <summary>Half the time over which a vertical speed is taken, seconds.</summary>
    private const double HalfSpanS = 2;

    /// <summary>
    /// When a climb or descent was levelled off from: for the first time near the altitude to level off at, else for the first time in its
    /// last part; null where it never became level.
    /// </summary>
    /// <param name="state">Reconstructed flight.</param>
    /// <param name="climbing">The climb or descent.</param>
    /// <param name="match">Where it was found.</param>
    /// <param name="untilS">Until when.</param>
    /// <param name="raisedFt">How far above its plan the drill was flown, feet; NaN where it is not known.</param>
    public static Onset? LevelOff(
        FlightState state,
        TimelineSegment climbing,
        SegmentMatch match,
        double untilS,
        double raisedFt = double.NaN
    )
    {
        var first = Math.Min(SortedTimes.LowerBound(state.TimeS, match.StartS), state.Count - 1);
        var enoughFt = BoundaryModel.LevelFromShare * (climbing.EndAltitudeFt - climbing.StartAltitudeFt);
        double? lastS = null;
        var shareBefore = 0.0;
        for (var i = first; i < state.Count && state.TimeS[i] <= untilS; i++)
        {
            var share = RateFpm(state, i) / climbing.VerticalSpeedFpm;
            var enough = (state.AltitudeFt[i] - state.AltitudeFt[first]) / enoughFt > 1;
            if (shareBefore > HandlingModel.ClimbingShare && share <= HandlingModel.ClimbingShare)
            {
                var part = (shareBefore - HandlingModel.ClimbingShare) / (shareBefore - share);
                lastS = state.TimeS[i - 1] + (part * (state.TimeS[i] - state.TimeS[i - 1]));
                if (enough && IsNear(state, climbing, i, raisedFt) && GoesOnSlower(state, climbing, i))
                    break;
            }

            shareBefore = share;
            // Once it was level, what follows corrects the level-off.
            if (share < HandlingModel.LevelShare && enough)
                break;
            if (i + 1 == state.Count || state.TimeS[i + 1] > untilS)
                return null;
        }

        return lastS is { } s ? new(s - HandlingModel.HalfLevelOffS, BoundaryModel.LevelOffSigmaS) : null;
    }

    /// <summary>No more is to be climbed than some leads for levelling off.</summary>
    private static bool IsNear(FlightState state, TimelineSegment climbing, int i, double raisedFt) =>
        (climbing.EndAltitudeFt + raisedFt - state.AltitudeFt[i]) / (climbing.VerticalSpeedFpm * HandlingModel.LevelOffLeadShare)
        <= BoundaryModel.NearLevelLeads;

    /// <summary>For some seconds after a sample the mean vertical speed is no longer that of the climb.</summary>
    private static bool GoesOnSlower(FlightState state, TimelineSegment climbing, int i)
    {
        var to = Math.Min(SortedTimes.LowerBound(state.TimeS, state.TimeS[i] + BoundaryModel.SlowerS), state.Count - 1);
        return to > i
            && (state.AltitudeFt[to] - state.AltitudeFt[i]) / (state.TimeS[to] - state.TimeS[i]) * 60 / climbing.VerticalSpeedFpm
                < HandlingModel.ClimbingShare;
    }

    /// <summary>The first pitch from one segment's vertical speed toward the next one's; null where none can be seen.</summary>
    /// <param name="state">Reconstructed flight.</param>
    /// <param name="a">The segment before.</param>
    /// <param name="b">The segment after.</param>
    /// <param name="before">Where the one before was found.</param>
    /// <param name="after">Where the one after was found.</param>
    /// <param name="raisedFt">How far above its plan the drill was flown, feet; NaN where it is not known.</param>
    public static Onset? Start(
        FlightState state,
        TimelineSegment a,
        TimelineSegment b,
        SegmentMatch before,
        SegmentMatch after,
        double raisedFt = double.NaN
    )
    {
        var changeFtPerS = (b.VerticalSpeedFpm - a.VerticalSpeedFpm) / 60;
        var (fromS, toS) = BoundaryRefiner.Window(before, after);
        if (b.VerticalSpeedFpm == 0)
        {
            // What follows a first level-off corrects it, and may look more like one.
            var first = LevelOff(state, a, before, toS, raisedFt);
            var search = new BreakpointSearch(fromS, toS, after.StartS, HandlingModel.PitchS, changeFtPerS)
            {
                AheadS = BoundaryModel.PitchAheadS,
                AheadScaleS = BoundaryModel.PitchAheadScaleS,
            };
            if (first is { AtS: var firstS })
                search = search with { AboutS = firstS, SearchS = BoundaryModel.ClimbSearchS, AheadS = 0 };
            return AltitudeBreak(state, search) ?? first;
        }

        // The pilot may have levelled off early, corrected an overshoot, and waited for heading or clock.
        if (BegunAt(state, a, b, before, after) is not { } begun)
            return null;
        var begunS = state.TimeS[begun];
        if (a.VerticalSpeedFpm != 0 && FirstLevel(state, b, begun, begunS - BoundaryModel.LevelBeforeClimbS))
            return new(begunS - HandlingModel.ClimbBegunDelayS, BoundaryModel.ClimbBegunSigmaS);
        return AltitudeBreak(
            state,
            new(
                Math.Max(fromS, begunS - BoundaryModel.ClimbBeforeS),
                Math.Min(toS, begunS + BoundaryModel.ClimbAfterS),
                begunS - (HandlingModel.PitchS / 2),
                HandlingModel.PitchS,
                changeFtPerS,
                BoundaryModel.ClimbSearchS,
                AheadS: 0
            )
        );
    }

    private static Onset? AltitudeBreak(FlightState state, BreakpointSearch search) =>
        BreakpointFit.Start(state.TimeS, state.AltitudeFt, search)?.With(BoundaryModel.LeastPitchSigmaS, BoundaryModel.PitchSpread)
        - HandlingModel.PitchDelayS;

    /// <summary>Just ahead of the new climb the aeroplane was level, no longer in the climb before.</summary>
    private static bool FirstLevel(FlightState state, TimelineSegment b, int begun, double sinceS)
    {
        var i = SortedTimes.LowerBound(state.TimeS, sinceS);
        return i < begun && RateFpm(state, i) / b.VerticalSpeedFpm > -HandlingModel.LevelShare;
    }

    /// <summary>
    /// The sample at which the new climb has begun; of several beginnings the one nearest to where the turn before was done.
    /// </summary>
    private static int? BegunAt(FlightState state, TimelineSegment a, TimelineSegment b, SegmentMatch before, SegmentMatch after)
    {
        var sense = Math.Sign(b.VerticalSpeedFpm);
        var startDeg = state.HeadingMagDeg[Math.Min(SortedTimes.LowerBound(state.TimeS, before.StartS), state.Count - 1)];
        int? best = null,
            begun = null;
        var bestOffDeg = double.PositiveInfinity;
        var startFt = double.NaN;
        for (
            var i = SortedTimes.LowerBound(state.TimeS, before.StartS + (before.DurationS * BoundaryModel.ClimbFromShare));
            i < state.Count && state.TimeS[i] <= after.EndS;
            i++
        )
        {
            if (RateFpm(state, i) / b.VerticalSpeedFpm < HandlingModel.ClimbBegunShare)
            {
                begun = null;
                continue;
            }

            if (begun is null)
                (begun, startFt) = (i, state.AltitudeFt[i]);
            if (sense * (state.AltitudeFt[i] - startFt) < HandlingModel.ClimbBegunFt)
                continue;
            var offDeg = Math.Abs(state.HeadingMagDeg[begun.Value] - startDeg - a.TurnDeg);
            if (best == begun || offDeg >= bestOffDeg)
                continue;
            (best, bestOffDeg) = (begun, offDeg);
            // Only a turn that goes on can tell one beginning from another.
            if (a.TurnRateDegPerS == 0 || a.TurnRateDegPerS != b.TurnRateDegPerS)
                break;
        }

        return best;
    }

    private static double RateFpm(FlightState state, int i)
    {
        var first = Math.Max(0, Math.Min(i - 1, SortedTimes.LowerBound(state.TimeS, state.TimeS[i] - HalfSpanS)));
        var last = Math.Min(state.Count - 1, Math.Max(i + 1, SortedTimes.LowerBound(state.TimeS, state.TimeS[i] + HalfSpanS)));
        return (state.AltitudeFt[last] - state.AltitudeFt[first]) / (state.TimeS[last] - state.TimeS[first]) * 60;
    }
}
