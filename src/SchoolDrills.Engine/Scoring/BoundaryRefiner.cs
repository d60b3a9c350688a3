using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Moves each boundary to the moment the pilot began to act, finer than the sample interval: heading (or altitude) about it is
/// fitted by a straight line that starts to bend at the boundary, as the aeroplane rolls (or pitches) toward its new rate.
/// </summary>
public static class BoundaryRefiner
{
    /// <summary>How far from the aligner's boundary the bend is looked for, seconds.</summary>
    private const double SearchS = 9;

    /// <summary>Flight used on either side of a bend, seconds.</summary>
    private const double BeforeS = 12, AfterS = 14;

    /// <summary>Time over which the rate changes: rolling into or out of a turn, and pitching to a climb, seconds.</summary>
    private const double RollS = 4, PitchS = 5;

    /// <summary>From the first movement of the controls to the start of the fitted bend, seconds (measured over simulated flights).</summary>
    private const double RollDelayS = 0.2, PitchDelayS = 0.4;

    /// <summary>A level-off this much later than the roll-out ends the segment, seconds.</summary>
    private const double LaterLevelOffS = 3;

    /// <summary>A new climb or descent begun this much earlier than the new turn starts the segment, seconds.</summary>
    private const double EarlierPitchS = 5;

    /// <summary>A climb that pauses no longer than this goes on, seconds.</summary>
    private const double PauseS = 12;

    /// <summary>How late a straight is usually ended by a pilot who flies by the clock, seconds: he reads it, then acts.</summary>
    private const double StraightLateS = 0.6;

    /// <summary>Other flight between two segments shorter than this is hesitation, not other flight, seconds.</summary>
    private const double HesitationS = 30;

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
            if (matches[b].StartS - matches[a].EndS > HesitationS) continue;
            var atS = BeginsAt(state, timeline.Segments[a], timeline.Segments[b], matches[a], matches[b]) ?? matches[b].StartS;
            matches[a] = matches[a] with { EndS = atS };
            matches[b] = matches[b] with { StartS = atS };
        }

        SetOuterEnds(state, timeline, matches, flown);
        return alignment with { Matches = matches, ClockStartS = ClockStartS(timeline.Segments, matches) };
    }

    private static double? BeginsAt(FlightState state, TimelineSegment a, TimelineSegment b, SegmentMatch before, SegmentMatch after)
    {
        // Neither a neighbour's other boundary nor its own bend may come into the window.
        var fromS = before.StartS + (before.DurationS * 0.3);
        var toS = after.EndS - (after.DurationS * 0.2);
        var turn = b.TurnRateDegPerS - a.TurnRateDegPerS;
        var rollS = turn == 0 ? null : Bend(state.TimeS, state.HeadingMagDeg, fromS, toS, after.StartS, RollS * Math.Max(1, Math.Abs(turn) / 4.5), turn) - RollDelayS;
        var pitchS = PitchesAt(state, a, b, before, after, fromS, toS);
        if (rollS is null) return pitchS;
        if (b.TurnRateDegPerS == 0 && b.VerticalSpeedFpm == 0)
        {
            return a.VerticalSpeedFpm != 0 && LevelsOffAt(state, a, before.StartS, rollS.Value, after.EndS - 5) is { } levelS && levelS > rollS + LaterLevelOffS ? levelS : rollS;
        }

        // A reversal begun the wrong way shows late in the heading; the change of height tells when the pilot began.
        return a.TurnRateDegPerS * b.TurnRateDegPerS < 0 && pitchS < rollS - EarlierPitchS ? pitchS : rollS;
    }

    /// <summary>The first pitch toward a new climb or descent, null where the segments ask for no change of vertical speed.</summary>
    private static double? PitchesAt(FlightState state, TimelineSegment a, TimelineSegment b, SegmentMatch before, SegmentMatch after, double fromS, double toS)
    {
        var change = b.VerticalSpeedFpm - a.VerticalSpeedFpm;
        if (change == 0) return null;
        var aboutS = after.StartS;
        if (b.VerticalSpeedFpm != 0)
        {
            // The pilot may have levelled off early and waited: look for the new rate itself, not for the end of the old one.
            var half = FirstS(state, before.StartS + (before.DurationS * 0.5), after.EndS, i => state.VerticalSpeedFpm[i] / b.VerticalSpeedFpm > 0.5);
            if (half is null) return null;
            aboutS = half.Value - (PitchS / 2);
            fromS = Math.Max(fromS, aboutS - BeforeS + 2);
            toS = Math.Min(toS, aboutS + PitchS + 4);
            return Bend(state.TimeS, state.AltitudeFt, fromS, toS, aboutS, PitchS, change / 60, 5) - PitchDelayS;
        }

        return Bend(state.TimeS, state.AltitudeFt, fromS, toS, aboutS, PitchS, change / 60) - PitchDelayS;
    }

    /// <summary>When a climb or descent that goes on after a time begins to level off for good, short pauses not counted.</summary>
    private static double? LevelsOffAt(FlightState state, TimelineSegment climbing, double begunS, double afterS, double untilS)
    {
        double? lastS = null;
        var begunFt = state.AltitudeFt[Math.Min(LowerBound(state.TimeS, begunS), state.Count - 1)];
        var wholeFt = climbing.EndAltitudeFt - climbing.StartAltitudeFt;
        for (var i = LowerBound(state.TimeS, afterS); i < state.Count && state.TimeS[i] <= untilS; i++)
        {
            if ((state.AltitudeFt[i] - begunFt) / wholeFt > 0.97) break;
            if (state.VerticalSpeedFpm[i] / climbing.VerticalSpeedFpm > 0.5) lastS = state.TimeS[i];
            else if (state.TimeS[i] - (lastS ?? afterS) > PauseS) break;
        }

        return lastS - (PitchS / 2);
    }

    private static double? FirstS(FlightState state, double fromS, double toS, Func<int, bool> holds)
    {
        for (var i = LowerBound(state.TimeS, fromS); i < state.Count && state.TimeS[i] <= toS; i++)
        {
            if (holds(i)) return state.TimeS[i];
        }

        return null;
    }

    /// <summary>
    /// The time at which a quantity starts to change its rate: the least-squares fit of a line plus a bend of given duration, tried
    /// at every quarter second; null where no bend of about the expected size and sense is there.
    /// </summary>
    private static double? Bend(
        double[] timeS, double[] values, double fromS, double toS, double aboutS, double lengthS, double expectedChange, double searchS = SearchS)
    {
        fromS = Math.Max(fromS, aboutS - BeforeS);
        toS = Math.Min(toS, aboutS + AfterS);
        var first = Math.Max(0, LowerBound(timeS, fromS));
        var last = Math.Min(timeS.Length, LowerBound(timeS, toS));
        if (last - first < 6) return null;
        double? bestS = null;
        var least = double.PositiveInfinity;
        for (var s = Math.Max(aboutS - searchS, fromS + 2); s <= Math.Min(aboutS + searchS, toS - (lengthS / 2)); s += 0.25)
        {
            var (change, squares) = FitBend(timeS, values, first, last, s, lengthS);
            if (change / expectedChange is < 0.35 or > 2.5) continue;
            if (squares >= least) continue;
            least = squares;
            bestS = s;
        }

        return bestS;
    }

    private static (double Change, double Squares) FitBend(double[] timeS, double[] values, int first, int last, double atS, double lengthS)
    {
        // Normal equations of value = p + q t + change · bend(t), with t from the bend.
        double n = 0, t1 = 0, t2 = 0, b1 = 0, b2 = 0, tb = 0, v1 = 0, tv = 0, bv = 0, vv = 0;
        var origin = values[first];
        for (var i = first; i < last; i++)
        {
            if (!double.IsFinite(values[i])) continue;
            var t = timeS[i] - atS;
            var bend = t <= 0 ? 0 : t < lengthS ? t * t / (2 * lengthS) : t - (lengthS / 2);
            var v = values[i] - origin;
            n++;
            t1 += t;
            t2 += t * t;
            b1 += bend;
            b2 += bend * bend;
            tb += t * bend;
            v1 += v;
            tv += t * v;
            bv += bend * v;
            vv += v * v;
        }

        // Project line out of bend and value, then regress one on the other.
        var determinant = (n * t2) - (t1 * t1);
        if (n < 6 || determinant <= 0) return (0, double.PositiveInfinity);
        var (bp, bq) = (((b1 * t2) - (tb * t1)) / determinant, ((n * tb) - (t1 * b1)) / determinant);
        var (vp, vq) = (((v1 * t2) - (tv * t1)) / determinant, ((n * tv) - (t1 * v1)) / determinant);
        var bendLeft = b2 - (bp * b1) - (bq * tb);
        var bothLeft = bv - (bp * v1) - (bq * tv);
        var valueLeft = vv - (vp * v1) - (vq * tv);
        if (bendLeft <= 1e-9) return (0, double.PositiveInfinity);
        return (bothLeft / bendLeft, valueLeft - (bothLeft * bothLeft / bendLeft));
    }

    /// <summary>
    /// A straight that opens or closes the drill looks the same before and after it. Its outer end is put where the clock has it:
    /// a pilot who flies by one running clock ends every straight on time, so the ends of the straights tell when the clock started.
    /// A turn that closes the drill ends where the pilot begins to roll out.
    /// </summary>
    private static void SetOuterEnds(FlightState state, DrillTimeline timeline, SegmentMatch[] matches, int[] flown)
    {
        double firstS = state.TimeS[0], lastS = state.TimeS[^1];
        var segments = timeline.Segments;
        if (flown[0] == 0 && segments[0].Kind == SegmentKind.LevelStraight && flown.Length > 1)
        {
            var startS = ClockStartS(segments, matches);
            matches[0] = matches[0] with { StartS = Math.Clamp(startS, firstS, matches[0].EndS - 1) };
        }

        var last = flown[^1];
        if (last == 0) return;
        if (segments[last].TurnRateDegPerS != 0)
        {
            var rollOutS = Bend(state.TimeS, state.HeadingMagDeg, matches[last].StartS + 5, lastS, matches[last].EndS, RollS, -segments[last].TurnRateDegPerS) - RollDelayS;
            matches[last] = matches[last] with { EndS = rollOutS ?? matches[last].EndS };
        }
        else if (last == matches.Length - 1 && segments[last].Kind == SegmentKind.LevelStraight)
        {
            var endS = ClockStartS(segments, matches) + segments[last].EndS;
            if (Math.Abs(endS - matches[last].StartS - segments[last].DurationS) > 20) endS = matches[last].StartS + segments[last].DurationS;
            matches[last] = matches[last] with { EndS = Math.Clamp(endS, matches[last].StartS + 1, lastS) };
        }
    }

    /// <summary>
    /// When the drill's clock read zero: the middle of the largest group of early straights whose ends agree on it, so that one
    /// straight held too long does not move the clock.
    /// </summary>
    internal static double ClockStartS(IReadOnlyList<TimelineSegment> segments, IReadOnlyList<SegmentMatch> matches)
    {
        var votes = Enumerable.Range(0, matches.Count - 1)
            .Where(k => matches[k].Status != SegmentStatus.Skipped && segments[k].Kind == SegmentKind.LevelStraight)
            .Select(k => matches[k].EndS - segments[k].EndS)
            .Take(5).ToArray();
        if (votes.Length == 0) return matches.First(m => m.Status != SegmentStatus.Skipped).StartS;
        // A pilot who times each straight by itself falls ever further behind: only an earlier clock than the first straight's is believed.
        var group = votes.Where(v => v <= votes[0] + 2).Select(v => votes.Where(other => Math.Abs(other - v) <= 2).Order().ToArray()).MaxBy(g => g.Length)!;
        return group[group.Length / 2] - StraightLateS;
    }

    private static int LowerBound(double[] sorted, double value)
    {
        var at = Array.BinarySearch(sorted, value);
        return at < 0 ? ~at : at;
    }
}
