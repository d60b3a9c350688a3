using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Marks segments that were flown in part: the one in which the drill was aborted, and those that the recording's ends cut. The
/// aligner knows whole segments only; flight that agrees with the next one (or the one before) for a while is added here.
/// </summary>
internal static class PartialSegments
{
    /// <summary>The alignment with partial segments marked and added.</summary>
    public static Alignment Mark(AlignmentGrid grid, DrillTimeline timeline, Alignment alignment)
    {
        var matches = alignment.Matches.ToArray();
        var first = Array.FindIndex(matches, m => m.Status != SegmentStatus.Skipped);
        var last = Array.FindLastIndex(matches, m => m.Status != SegmentStatus.Skipped);

        var seenBefore = false;
        if (first > 0 && Begun(grid, timeline.Segments[first - 1], grid.IndexAt(matches[first].StartS), -1) is { } from)
        {
            matches[--first] = new SegmentMatch(first, SegmentStatus.Partial, grid.TimeS(from), matches[first].StartS);
            seenBefore = true;
        }

        var cutBefore =
            grid.BeginsRecording
            && matches[first].StartS <= grid.TimeS(0) + AlignmentModel.AtEdgeS
            && (first > 0 || IsPart(grid, timeline.Segments[first], matches[first]));
        // What precedes the first segment seen is only part of it where the recording begins in it.
        if (!cutBefore && seenBefore)
            matches[first] = new SegmentMatch(first++, SegmentStatus.Skipped, double.NaN, double.NaN);
        if (cutBefore && IsPart(grid, timeline.Segments[first], matches[first]))
            matches[first] = matches[first] with { Status = SegmentStatus.Partial };

        if (last < matches.Length - 1 && matches[last].Status != SegmentStatus.Partial)
        {
            if (IsPart(grid, timeline.Segments[last], matches[last]))
            {
                matches[last] = matches[last] with { Status = SegmentStatus.Partial };
            }
            else if (Begun(grid, timeline.Segments[last + 1], grid.IndexAt(matches[last].EndS), 1) is { } to)
            {
                matches[last + 1] = new SegmentMatch(last + 1, SegmentStatus.Partial, matches[last].EndS, grid.TimeS(to));
                last++;
            }
        }

        var atEnd = grid.EndsRecording && matches[last].EndS >= grid.TimeS(grid.Count - 1) - AlignmentModel.AtEdgeS;
        if (last == matches.Length - 1 && atEnd && IsTurn(timeline.Segments[last]) && IsPart(grid, timeline.Segments[last], matches[last]))
            matches[last] = matches[last] with { Status = SegmentStatus.Partial };
        // Any straight looks like the one that closes a drill: one that was not seen, or was cut short, gives nothing up.
        var undone = matches[last].Status == SegmentStatus.Partial ? last : last + 1;
        var maneuversLeft = timeline.Segments.Skip(undone).Any(s => s.Kind != SegmentKind.LevelStraight);
        var cutAfter = atEnd && (last < matches.Length - 1 || matches[last].Status == SegmentStatus.Partial);
        return alignment with { Matches = matches, CutBefore = cutBefore, CutAfter = cutAfter, Aborted = !cutAfter && maneuversLeft };
    }

    /// <summary>
    /// Where a stretch from a sample on, forward or back, stops agreeing with a segment; null where it hardly does at all.
    /// </summary>
    private static int? Begun(AlignmentGrid grid, TimelineSegment segment, int at, int step)
    {
        var sum = grid.ScoreSum(segment.TurnRateDegPerS, segment.VerticalSpeedFpm);
        var (best, bestScore) = (at, 0.0);
        for (var i = at + step; i >= 0 && i < grid.Count && Math.Abs(i - at) * grid.StepS <= segment.DurationS; i += step)
        {
            var score = (sum[i] - sum[at]) * step;
            if (score > bestScore)
                (best, bestScore) = (i, score);
            // What agrees again after other flight is another maneuver.
            else if (score < bestScore - AlignmentModel.OtherFlightPenalty)
                break;
        }

        var lengthS = Math.Abs(best - at) * grid.StepS;
        return lengthS >= AlignmentModel.ShortestPartS && bestScore >= AlignmentModel.LeastScoreShare * AlignmentModel.ScorePerS * lengthS
            ? best
            : null;
    }

    private static bool IsPart(AlignmentGrid grid, TimelineSegment segment, SegmentMatch match)
    {
        if (match.DurationS > AlignmentModel.WholeShare * segment.DurationS)
            return false;
        var (start, end) = (grid.IndexAt(match.StartS), grid.IndexAt(match.EndS));
        if (IsTurn(segment))
        {
            return (grid.HeadingDeg[end] - grid.HeadingDeg[start]) * Math.Sign(segment.TurnDeg)
                < Math.Min(
                    AlignmentModel.WholeShare * Math.Abs(segment.TurnDeg),
                    Math.Abs(segment.TurnDeg) - AlignmentModel.MissingRollOutDeg
                );
        }

        return segment.VerticalSpeedFpm == 0
            || (grid.AltitudeFt[end] - grid.AltitudeFt[start]) / (segment.EndAltitudeFt - segment.StartAltitudeFt)
                < AlignmentModel.WholeShare;
    }

    private static bool IsTurn(TimelineSegment segment) => segment.TurnDeg != 0;
}
