using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Finds a drill inside a longer recording by dynamic programming over segment boundaries: a semi-Markov model in which a stretch
/// of flight is worth to a segment what its turn rate, vertical speed, turn and change of height agree with it, less a price for an
/// unlikely length. Other flight may come before, after and between; segments may be skipped; the drill may be given up.
/// </summary>
internal static class SegmentAligner
{
    /// <summary>Aligns a drill; null when nothing in the recording is worth anything to it.</summary>
    /// <param name="grid">The stretch to look in.</param>
    /// <param name="timeline">The drill resolved for its entry.</param>
    /// <param name="relaxed">
    /// A segment flown too long counts as one of nominal length flown as well on the whole, so that a turn at half the rate or a climb far
    /// too slow does not pay for each of its seconds twice. It draws boundaries less sharply, so it is for flights not found else.
    /// </param>
    public static Alignment? Align(AlignmentGrid grid, DrillTimeline timeline, bool relaxed = false)
    {
        var segments = timeline.Segments;
        var best = new double[segments.Count][];
        var from = new int[segments.Count][];
        var otherFlight = new int[segments.Count][];

        // worth[t]: the most that the segments before the current one are worth when they end, or are followed by other flight, at t.
        var worth = new double[grid.Count + 1];
        var endedAt = new int[grid.Count + 1];
        for (var t = 0; t <= grid.Count; t++)
            endedAt[t] = t;
        for (var k = 0; k < segments.Count; k++)
        {
            var last = k == segments.Count - 1;
            if (last && k > 0 && segments[k].Kind == SegmentKind.LevelStraight)
            {
                // A straight that closes the drill begins where the maneuver before it ended: after other flight any straight would do.
                worth = best[k - 1];
                for (var t = 0; t <= grid.Count; t++)
                    endedAt[t] = t;
            }

            (best[k], from[k]) = Extend(grid, segments[k], worth, first: k == 0, last, relaxed);
            otherFlight[k] = endedAt;
            (worth, endedAt) = AllowOtherFlight(grid, best[k]);
        }

        return Trace(grid, timeline, best, from, otherFlight);
    }

    private static (double[] Best, int[] From) Extend(
        AlignmentGrid grid,
        TimelineSegment segment,
        double[] worth,
        bool first,
        bool last,
        bool relaxed
    )
    {
        var sum = grid.WorthSum(segment.TurnRateDegPerS, segment.VerticalSpeedFpm);
        var nominal = segment.DurationS / grid.StepS;
        // A straight that opens or closes the drill has no visible outer end: the clock sets it.
        var outer = (first || last) && segment.Kind == SegmentKind.LevelStraight;
        var shortest = Math.Max(1, (int)Math.Floor((outer ? 0.9 : AlignmentModel.ShortestShare) * nominal));
        var longest = Math.Max(shortest, (int)Math.Ceiling((outer ? 1.1 : AlignmentModel.LongestShare) * nominal));
        if (outer)
            shortest = Math.Max(1, (int)Math.Floor(0.5 * nominal));
        // Seconds beyond the nominal earn nothing, or any long straight would look like a good one.
        var lengthCost = Enumerable
            .Range(0, longest + 1)
            .Select(d =>
                d == 0
                    ? 0
                    : Square(Math.Log(d / nominal) / (outer ? 0.15 : AlignmentModel.LengthScatter))
                        + (relaxed ? 0 : AlignmentModel.Worth * grid.StepS * Math.Max(0, d - nominal))
            )
            .ToArray();
        var share = relaxed ? Enumerable.Range(0, longest + 1).Select(d => Math.Min(1, nominal / Math.Max(1, d))).ToArray() : null;
        var skipPrice = AlignmentModel.SkipPrice + (AlignmentModel.SkipPricePerS * segment.DurationS);
        var best = new double[grid.Count + 1];
        var from = new int[grid.Count + 1];
        // What the stretch before a start leaves, so that a length costs one addition.
        var left = new double[grid.Count + 1];
        for (var t = 0; t <= grid.Count; t++)
            left[t] = worth[t] - sum[t];
        var likely = (int)Math.Round(nominal);
        for (var t = 0; t <= grid.Count; t++)
        {
            best[t] = worth[t] - skipPrice;
            from[t] = -1;
            // The likeliest length first: what it earns spares the look at where most others end.
            if (likely >= shortest && likely <= Math.Min(longest, t))
                Try(t, likely);
            var most = Math.Min(longest, t);
            grid.Looks += Math.Max(0, most - shortest + 1);
            for (var d = shortest; d <= most; d++)
            {
                if (share is not null ? Whole(t, d) > best[t] : left[t - d] - lengthCost[d] > best[t] - sum[t])
                    Try(t, d);
            }
        }

        return (best, from);

        double Whole(int t, int d) => worth[t - d] + ((share?[d] ?? 1) * (sum[t] - sum[t - d])) - lengthCost[d];

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
        var speed = SpeedError(grid, segment, start, to);
        return cost + Math.Min(speed * speed, AlignmentModel.EndCostCap);
    }

    /// <summary>
    /// How far the change of airspeed over a segment is from the one asked, in scatters; 0 where none is asked or it is not known.
    /// </summary>
    public static double SpeedError(AlignmentGrid grid, TimelineSegment segment, int start, int end)
    {
        if (segment.Kind != SegmentKind.SpeedChange)
            return 0;
        var error =
            (grid.SpeedKt[end] - grid.SpeedKt[start] - (segment.AirspeedKt - segment.StartAirspeedKt)) / AlignmentModel.SpeedScatterKt;
        return double.IsFinite(error) ? error : 0;
    }

    private static (double[] Worth, int[] EndedAt) AllowOtherFlight(AlignmentGrid grid, double[] best)
    {
        var worth = (double[])best.Clone();
        var endedAt = new int[best.Length];
        var other = double.NegativeInfinity;
        var otherSince = 0;
        for (var t = 0; t < best.Length; t++)
        {
            other -= AlignmentModel.OtherFlightPricePerS * grid.StepS;
            if (best[t] - AlignmentModel.OtherFlightPrice > other)
            {
                other = best[t] - AlignmentModel.OtherFlightPrice;
                otherSince = t;
            }

            endedAt[t] = t;
            if (other <= worth[t])
                continue;
            worth[t] = other;
            endedAt[t] = otherSince;
        }

        return (worth, endedAt);
    }

    private static Alignment? Trace(AlignmentGrid grid, DrillTimeline timeline, double[][] best, int[][] from, int[][] otherFlight)
    {
        var (lastSegment, end, total) = (-1, 0, 0.0);
        for (var k = 0; k < best.Length; k++)
        {
            var price = k == best.Length - 1 ? 0 : AlignmentModel.AbortPrice;
            for (var t = 0; t <= grid.Count; t++)
            {
                if (best[k][t] - price > total)
                    (lastSegment, end, total) = (k, t, best[k][t] - price);
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
        var marked = PartialSegments.Mark(grid, timeline, new Alignment(matches, 0, aborted));
        return marked with { Confidence = AlignmentConfidence.Of(grid, timeline, marked.Matches) };
    }

    private static double Square(double x) => x * x;
}
