using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Places the segments of a drill in a stretch of flight by dynamic programming over segment boundaries: a stretch scores for a segment
/// by how well its turn rate, vertical speed, turn and change of height agree, less a penalty for an unlikely length. Other flight may
/// come before, after and between; segments may be skipped; the drill may be aborted.
/// </summary>
internal static class SegmentAligner
{
    /// <summary>Aligns a drill; null when nothing in the recording scores.</summary>
    /// <param name="grid">The stretch to look in.</param>
    /// <param name="timeline">The drill resolved for its entry.</param>
    public static Alignment? Align(AlignmentGrid grid, DrillTimeline timeline)
    {
        var segments = timeline.Segments;
        var best = new double[segments.Count][];
        var from = new int[segments.Count][];
        var otherFlight = new int[segments.Count][];

        // score[t]: the best score of the segments before the current one that end, or are followed by other flight, at t.
        var score = new double[grid.Count + 1];
        var endedAt = new int[grid.Count + 1];
        for (var t = 0; t <= grid.Count; t++)
            endedAt[t] = t;
        for (var k = 0; k < segments.Count; k++)
        {
            var last = k == segments.Count - 1;
            if (last && k > 0 && segments[k].Kind == SegmentKind.LevelStraight)
            {
                // A straight that closes the drill begins where the maneuver before it ended: after other flight any straight would do.
                score = best[k - 1];
                for (var t = 0; t <= grid.Count; t++)
                    endedAt[t] = t;
            }

            (best[k], from[k]) = Extend(grid, segments[k], score, first: k == 0, last);
            otherFlight[k] = endedAt;
            (score, endedAt) = AllowOtherFlight(grid, best[k]);
        }

        return Trace(grid, timeline, best, from, otherFlight);
    }

    private static (double[] Best, int[] From) Extend(AlignmentGrid grid, TimelineSegment segment, double[] score, bool first, bool last)
    {
        var sum = grid.ScoreSum(segment.TurnRateDegPerS, segment.VerticalSpeedFpm);
        var nominal = segment.DurationS / grid.StepS;
        var outer = (first || last) && segment.Kind == SegmentKind.LevelStraight;
        var (shortestShare, longestShare, lengthScatter) = outer
            ? (AlignmentModel.ShortestOuterShare, AlignmentModel.LongestOuterShare, AlignmentModel.OuterLengthScatter)
            : (AlignmentModel.ShortestShare, AlignmentModel.LongestShare, AlignmentModel.LengthScatter);
        var shortest = Math.Max(1, (int)Math.Floor(shortestShare * nominal));
        var longest = Math.Max(shortest, (int)Math.Ceiling(longestShare * nominal));
        // Seconds beyond the nominal score nothing, or any long straight would look like a good one.
        var lengthCost = Enumerable
            .Range(0, longest + 1)
            .Select(d =>
                d == 0
                    ? 0
                    : Square(Math.Log(d / nominal) / lengthScatter) + (AlignmentModel.ScorePerS * grid.StepS * Math.Max(0, d - nominal))
            )
            .ToArray();
        var skipPenalty = AlignmentModel.SkipPenalty + (AlignmentModel.SkipPenaltyPerS * segment.DurationS);
        var best = new double[grid.Count + 1];
        var from = new int[grid.Count + 1];
        // What the stretch before a start contributes, so that a length costs one addition.
        var left = new double[grid.Count + 1];
        for (var t = 0; t <= grid.Count; t++)
            left[t] = score[t] - sum[t];
        var likely = (int)Math.Round(nominal);
        for (var t = 0; t <= grid.Count; t++)
        {
            best[t] = score[t] - skipPenalty;
            from[t] = -1;
            // The likeliest length first: its score rules most others out without a look at where they end.
            if (likely >= shortest && likely <= Math.Min(longest, t))
                Try(t, likely);
            var most = Math.Min(longest, t);
            grid.LengthsTried += Math.Max(0, most - shortest + 1);
            for (var d = shortest; d <= most; d++)
            {
                if (left[t - d] - lengthCost[d] > best[t] - sum[t])
                    Try(t, d);
            }
        }

        return (best, from);

        double Whole(int t, int d) => score[t - d] + sum[t] - sum[t - d] - lengthCost[d];

        void Try(int t, int d)
        {
            var value = Whole(t, d) - EndCost(grid, segment, t - d, t);
            if (value <= best[t])
                return;
            best[t] = value;
            from[t] = t - d;
        }
    }

    private static double EndCost(AlignmentGrid grid, TimelineSegment segment, int start, int end)
    {
        var to = Math.Min(end, grid.Count - 1);
        var turn = (grid.HeadingDeg[to] - grid.HeadingDeg[start] - segment.TurnDeg) / AlignmentModel.TurnScatterDeg;
        var climb =
            (grid.AltitudeFt[to] - grid.AltitudeFt[start] - (segment.EndAltitudeFt - segment.StartAltitudeFt))
            / AlignmentModel.ClimbScatterFt;
        var cost = 0.0;
        if (double.IsFinite(turn))
            cost += Math.Min(turn * turn, AlignmentModel.EndCostCap);
        if (double.IsFinite(climb))
            cost += Math.Min(climb * climb, AlignmentModel.EndCostCap);
        var speed = AlignmentConfidence.SpeedError(grid, segment, start, to);
        return cost + Math.Min(speed * speed, AlignmentModel.EndCostCap);
    }

    private static (double[] Score, int[] EndedAt) AllowOtherFlight(AlignmentGrid grid, double[] best)
    {
        var score = (double[])best.Clone();
        var endedAt = new int[best.Length];
        var other = double.NegativeInfinity;
        var otherSince = 0;
        for (var t = 0; t < best.Length; t++)
        {
            other -= AlignmentModel.OtherFlightPenaltyPerS * grid.StepS;
            if (best[t] - AlignmentModel.OtherFlightPenalty > other)
            {
                other = best[t] - AlignmentModel.OtherFlightPenalty;
                otherSince = t;
            }

            endedAt[t] = t;
            if (other <= score[t])
                continue;
            score[t] = other;
            endedAt[t] = otherSince;
        }

        return (score, endedAt);
    }

    private static Alignment? Trace(AlignmentGrid grid, DrillTimeline timeline, double[][] best, int[][] from, int[][] otherFlight)
    {
        var (lastSegment, end, total) = (-1, 0, 0.0);
        for (var k = 0; k < best.Length; k++)
        {
            var penalty = k == best.Length - 1 ? 0 : AlignmentModel.AbortPenalty;
            for (var t = 0; t <= grid.Count; t++)
            {
                if (best[k][t] - penalty > total)
                    (lastSegment, end, total) = (k, t, best[k][t] - penalty);
            }
        }

        if (lastSegment < 0)
            return null;

        var matches = new SegmentMatch[best.Length];
        for (var k = best.Length - 1; k > lastSegment; k--)
            matches[k] = new SegmentMatch(k, SegmentStatus.Skipped, double.NaN, double.NaN);
        for (var (k, t) = (lastSegment, end); k >= 0; k--)
        {
            var start = from[k][t];
            matches[k] =
                start < 0
                    ? new SegmentMatch(k, SegmentStatus.Skipped, double.NaN, double.NaN)
                    : new SegmentMatch(k, SegmentStatus.Flown, grid.TimeS(start), grid.TimeS(t));
            t = otherFlight[k][start < 0 ? t : start];
        }

        var aborted = lastSegment < best.Length - 1;
        if (matches.All(m => m.Status == SegmentStatus.Skipped))
            return null;
        return PartialSegments.Mark(grid, timeline, new Alignment(matches, 0, aborted));
    }

    private static double Square(double x) => x * x;
}
