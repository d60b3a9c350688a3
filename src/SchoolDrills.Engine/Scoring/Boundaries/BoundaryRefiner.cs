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
        var matches = alignment
            .Matches.Select(m => m with { StartSigmaS = BoundaryModel.UnrefinedSigmaS, EndSigmaS = BoundaryModel.UnrefinedSigmaS })
            .ToArray();
        var flown = Enumerable.Range(0, matches.Length).Where(k => matches[k].Status != SegmentStatus.Skipped).ToArray();
        for (var n = 1; n < flown.Length; n++)
        {
            var (a, b) = (flown[n - 1], flown[n]);
            if (matches[b].StartS - matches[a].EndS > HandlingModel.HesitationS)
            {
                matches[a] = EndsLevel(state, timeline.Segments[a], matches[a]);
                matches[b] = BeginsLevel(state, timeline.Segments[b], matches[b]);
                continue;
            }

            var begins =
                BeginsAt(state, timeline.Segments[a], timeline.Segments[b], matches[a], matches[b])
                ?? new(matches[b].StartS, BoundaryModel.UnrefinedSigmaS);
            begins = begins with { AtS = Math.Clamp(begins.AtS, matches[a].StartS + 1, matches[b].EndS - 1) };
            matches[a] = matches[a] with { EndS = begins.AtS, EndSigmaS = begins.SigmaS };
            matches[b] = matches[b] with { StartS = begins.AtS, StartSigmaS = begins.SigmaS };
        }

        alignment = WithOuterEnds(state, timeline, alignment with { Matches = matches });
        return alignment with { ClockStartS = DrillClock.StartS(timeline.Segments, alignment) };
    }

    private static Onset? BeginsAt(FlightState state, TimelineSegment a, TimelineSegment b, SegmentMatch before, SegmentMatch after)
    {
        var pitches = a.VerticalSpeedFpm == b.VerticalSpeedFpm ? null : PitchOnset.Start(state, a, b, before, after);
        if (RollsAt(state, a, b, before, after) is not { } rolls)
            return pitches;
        if (b.TurnRateDegPerS == 0 && b.VerticalSpeedFpm == 0)
        {
            return
                a.VerticalSpeedFpm != 0 && PitchOnset.LevelOff(state, a, before, after.EndS - BoundaryModel.LevelOffMarginS) is { } levels
                ? rolls.Toward(levels, Beyond(levels.AtS - rolls.AtS, HandlingModel.LaterLevelOffS))
                : rolls;
        }

        if (a.TurnRateDegPerS * b.TurnRateDegPerS >= 0)
            return rolls;
        // A forgotten reversal shows late in the heading, which has gone past the end of the old turn; the change of altitude shows when
        // the pilot began, and where there is none, the drill's own heading shows when he should have.
        var pastDeg = TurnedDeg(state, a, before.StartS, rolls.AtS) - Math.Abs(a.TurnDeg);
        if (pitches is { } pitch && pitch.AtS < rolls.AtS)
            return rolls.Toward(pitch, Beyond(pastDeg, HandlingModel.WrongWayOnsetDeg));
        return PassesEnd(state, a, before.StartS, rolls.AtS) is { } passes
            ? rolls.Toward(passes, Beyond(pastDeg, HandlingModel.ForgottenReversalDeg))
            : rolls;
    }

    /// <summary>0 up to a size, 1 from half as much again on.</summary>
    private static double Beyond(double value, double size) => Math.Clamp(2 * (value - size) / size, 0, 1);

    /// <summary>When a turn passes the heading at which it was to end.</summary>
    private static Onset? PassesEnd(FlightState state, TimelineSegment turn, double startS, double untilS)
    {
        for (var i = SortedTimes.LowerBound(state.TimeS, startS); i < state.Count && state.TimeS[i] < untilS; i++)
        {
            if (TurnedDeg(state, turn, startS, state.TimeS[i]) >= Math.Abs(turn.TurnDeg))
                return new(state.TimeS[i], BoundaryModel.PassedSigmaS);
        }

        return null;
    }

    /// <summary>
    /// The first roll toward a new turn or out of one, null where the segments have none between them or none can be seen.
    /// </summary>
    private static Onset? RollsAt(FlightState state, TimelineSegment a, TimelineSegment b, SegmentMatch before, SegmentMatch after)
    {
        var change = b.TurnRateDegPerS - a.TurnRateDegPerS;
        if (change == 0)
            return null;
        var (fromS, toS) = Window(before, after);
        var rollTimeS = HandlingModel.RollS * Math.Max(1, Math.Abs(change) / HandlingModel.RollRateChangeDegPerS);
        var rolls = HeadingBreak(state, new(fromS, toS, after.StartS, rollTimeS, change));
        if (a.TurnRateDegPerS != 0)
            return (rolls ?? (b.TurnRateDegPerS == 0 ? WingsLevel(state, a, fromS, after.StartS) : null)) - HandlingModel.RollOutDelayS;
        // A turn flown to the wrong side throughout begins with the opposite roll.
        rolls ??= HeadingBreak(state, new(fromS, toS, after.StartS, HandlingModel.RollS, -change));
        return (rolls is { } right ? WrongWayStart(state, change, fromS, right.AtS) ?? right : rolls) - HandlingModel.RollInDelayS;
    }

    /// <summary>Where a boundary is looked for: neither neighbor's other boundary may come into the window.</summary>
    internal static (double FromS, double ToS) Window(SegmentMatch before, SegmentMatch after) =>
        (before.StartS + (before.DurationS * BoundaryModel.OutBeforeShare), after.EndS - (after.DurationS * BoundaryModel.OutAfterShare));

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

    private static double TurnedDeg(FlightState state, TimelineSegment turn, double startS, double endS)
    {
        double At(double timeS) => state.HeadingMagDeg[Math.Min(SortedTimes.LowerBound(state.TimeS, timeS), state.Count - 1)];
        return (At(endS) - At(startS)) * Math.Sign(turn.TurnDeg);
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

    /// <summary>
    /// A maneuver that opens or closes the drill is begun from straight and level flight and ends in it; a straight's outer end is put
    /// where the clock has it; what the recording cuts ends with it.
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
            matches[first] = matches[first] with { StartS = firstS, StartSigmaS = 0 };
            if (matches[first].Status == SegmentStatus.Partial)
                matches[first] = matches[first] with { CutS = Math.Max(0, segments[first].DurationS - matches[first].DurationS) };
        }
        else if (segments[first].Kind != SegmentKind.LevelStraight)
        {
            matches[first] = BeginsLevel(state, segments[first], matches[first]);
        }
        else if (first == 0 && last > 0)
        {
            var startS = Math.Clamp(DrillClock.StartS(segments, alignment), firstS, matches[0].EndS - 1);
            matches[0] = matches[0] with { StartS = startS, StartSigmaS = BoundaryModel.ClockSigmaS };
        }

        if (alignment.CutAfter)
        {
            matches[last] = matches[last] with { EndS = lastS, EndSigmaS = 0 };
        }
        else if (segments[last].Kind != SegmentKind.LevelStraight)
        {
            matches[last] = EndsLevel(state, segments[last], matches[last]);
        }
        else if (last > 0 && last == matches.Length - 1)
        {
            var endS = DrillClock.StartS(segments, alignment) + segments[last].EndS;
            if (Math.Abs(endS - matches[last].StartS - segments[last].DurationS) > BoundaryModel.ClosingStraightMostOffS)
                endS = matches[last].StartS + segments[last].DurationS;
            endS = Math.Clamp(endS, matches[last].StartS + 1, lastS);
            matches[last] = matches[last] with { EndS = endS, EndSigmaS = BoundaryModel.ClosingSigmaS };
        }

        return alignment;
    }

    /// <summary>A maneuver begun from straight and level flight.</summary>
    private static SegmentMatch BeginsLevel(FlightState state, TimelineSegment segment, SegmentMatch match)
    {
        var fromS = Math.Max(state.TimeS[0], match.StartS - BoundaryModel.OuterS);
        var before = new SegmentMatch(-1, SegmentStatus.Flown, fromS, match.StartS);
        return BeginsAt(state, Level(segment, segment.StartHeadingMagDeg, segment.StartAltitudeFt), segment, before, match) is { } begins
            ? match with
            {
                StartS = Math.Clamp(begins.AtS, fromS, match.EndS - 1),
                StartSigmaS = begins.SigmaS,
            }
            : match;
    }

    /// <summary>A maneuver that ends in straight and level flight.</summary>
    private static SegmentMatch EndsLevel(FlightState state, TimelineSegment segment, SegmentMatch match)
    {
        var toS = Math.Min(state.TimeS[^1], match.EndS + BoundaryModel.OuterS);
        var after = new SegmentMatch(-1, SegmentStatus.Flown, match.EndS, toS);
        return BeginsAt(state, segment, Level(segment, segment.EndHeadingMagDeg, segment.EndAltitudeFt), match, after) is { } ends
            ? match with
            {
                EndS = Math.Clamp(ends.AtS, match.StartS + 1, toS),
                EndSigmaS = ends.SigmaS,
            }
            : match;
    }

    private static TimelineSegment Level(TimelineSegment segment, double headingMagDeg, double altitudeFt) =>
        segment with
        {
            Kind = SegmentKind.LevelStraight,
            StartHeadingMagDeg = headingMagDeg,
            TurnDeg = 0,
            TurnRateDegPerS = 0,
            StartAltitudeFt = altitudeFt,
            EndAltitudeFt = altitudeFt,
            VerticalSpeedFpm = 0,
        };
}
