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
    /// <param name="raisedFt">How far above its plan the drill was flown, feet; NaN where it is not known.</param>
    public static Alignment Refine(FlightState state, DrillTimeline timeline, Alignment alignment, double raisedFt = double.NaN)
    {
        var matches = alignment
            .Matches.Select(m => m with { StartSigmaS = BoundaryModel.UnrefinedSigmaS, EndSigmaS = BoundaryModel.UnrefinedSigmaS })
            .ToArray();
        var flown = Enumerable.Range(0, matches.Length).Where(k => matches[k].Status != SegmentStatus.Skipped).ToArray();
        for (var n = 1; n < flown.Length; n++)
        {
            var (a, b) = (flown[n - 1], flown[n]);
            var (segmentA, segmentB) = (timeline.Segments[a], timeline.Segments[b]);
            if (matches[b].FirstStartS is { } firstS && firstS - matches[a].EndS <= HandlingModel.HesitationS)
            {
                // The segment before ended where the maneuver was begun for the first time.
                var firstTime = matches[b] with
                {
                    StartS = firstS,
                    EndS = Math.Max(firstS + 2, matches[b].StartS),
                };
                var ends =
                    BeginsAt(state, segmentA, segmentB, matches[a], firstTime, raisedFt) ?? new(firstS, BoundaryModel.UnrefinedSigmaS);
                ends = ends with { AtS = Math.Clamp(ends.AtS, matches[a].StartS + 1, firstTime.EndS - 1) };
                matches[a] = matches[a] with { EndS = ends.AtS, EndSigmaS = ends.SigmaS };
                matches[b] = BeginsLevel(state, segmentB, matches[b] with { FirstStartS = ends.AtS }, raisedFt);
                continue;
            }

            var wrongWay = RollOnset.WrongWayFrom(state, segmentA, segmentB, matches[a], matches[b]);
            if (matches[b].StartS - matches[a].EndS > HandlingModel.HesitationS && wrongWay is null)
            {
                matches[a] = EndsLevel(state, segmentA, matches[a], raisedFt);
                matches[b] = BeginsLevel(state, segmentB, matches[b], raisedFt);
                continue;
            }

            var begins =
                wrongWay
                ?? BeginsAt(state, segmentA, segmentB, matches[a], matches[b], raisedFt)
                ?? new(matches[b].StartS, BoundaryModel.UnrefinedSigmaS);
            begins = begins with { AtS = Math.Clamp(begins.AtS, matches[a].StartS + 1, matches[b].EndS - 1) };
            matches[a] = matches[a] with { EndS = begins.AtS, EndSigmaS = begins.SigmaS };
            matches[b] = matches[b] with { StartS = begins.AtS, StartSigmaS = begins.SigmaS };
        }

        alignment = WithOuterEnds(state, timeline, alignment with { Matches = matches }, raisedFt);
        return alignment with { ClockStartS = DrillClock.StartS(timeline.Segments, alignment) };
    }

    private static Onset? BeginsAt(
        FlightState state,
        TimelineSegment a,
        TimelineSegment b,
        SegmentMatch before,
        SegmentMatch after,
        double raisedFt
    )
    {
        var pitches = a.VerticalSpeedFpm == b.VerticalSpeedFpm ? null : PitchOnset.Start(state, a, b, before, after, raisedFt);
        if (RollOnset.At(state, a, b, before, after) is not { } rolls)
            return pitches;
        if (b.TurnRateDegPerS == 0 && b.VerticalSpeedFpm == 0)
        {
            return
                a.VerticalSpeedFpm != 0
                && PitchOnset.LevelOff(state, a, before, after.EndS - BoundaryModel.LevelOffMarginS, raisedFt) is { } levels
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

    /// <summary>Where a boundary is looked for: neither neighbor's other boundary may come into the window.</summary>
    internal static (double FromS, double ToS) Window(SegmentMatch before, SegmentMatch after) =>
        (before.StartS + (before.DurationS * BoundaryModel.OutBeforeShare), after.EndS - (after.DurationS * BoundaryModel.OutAfterShare));

    private static double TurnedDeg(FlightState state, TimelineSegment turn, double startS, double endS)
    {
        double At(double timeS) => state.HeadingMagDeg[Math.Min(SortedTimes.LowerBound(state.TimeS, timeS), state.Count - 1)];
        return (At(endS) - At(startS)) * Math.Sign(turn.TurnDeg);
    }

    /// <summary>
    /// A maneuver that opens or closes the drill is begun from straight and level flight and ends in it; a straight's outer end is put
    /// where the clock has it; what the recording cuts ends with it.
    /// </summary>
    private static Alignment WithOuterEnds(FlightState state, DrillTimeline timeline, Alignment alignment, double raisedFt)
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
            matches[first] = BeginsLevel(state, segments[first], matches[first], raisedFt);
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
            matches[last] = EndsLevel(state, segments[last], matches[last], raisedFt);
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
    private static SegmentMatch BeginsLevel(FlightState state, TimelineSegment segment, SegmentMatch match, double raisedFt)
    {
        var fromS = Math.Max(state.TimeS[0], match.StartS - BoundaryModel.OuterS);
        var before = new SegmentMatch(-1, SegmentStatus.Flown, fromS, match.StartS);
        return
            BeginsAt(state, Level(segment, segment.StartHeadingMagDeg, segment.StartAltitudeFt), segment, before, match, raisedFt)
                is { } begins
            ? match with
            {
                StartS = Math.Clamp(begins.AtS, fromS, match.EndS - 1),
                StartSigmaS = begins.SigmaS,
            }
            : match;
    }

    /// <summary>A maneuver that ends in straight and level flight.</summary>
    private static SegmentMatch EndsLevel(FlightState state, TimelineSegment segment, SegmentMatch match, double raisedFt)
    {
        var toS = Math.Min(state.TimeS[^1], match.EndS + BoundaryModel.OuterS);
        var after = new SegmentMatch(-1, SegmentStatus.Flown, match.EndS, toS);
        return BeginsAt(state, segment, Level(segment, segment.EndHeadingMagDeg, segment.EndAltitudeFt), match, after, raisedFt) is { } ends
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
