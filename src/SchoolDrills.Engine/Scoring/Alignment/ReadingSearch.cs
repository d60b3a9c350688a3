using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Finds the likeliest reading of a flight as a drill flown in it: dynamic programming over segment boundaries of a hidden semi-Markov
/// model (<see cref="ReadingModel"/>), in which every choice is a probability and every value the log odds against general handling.
/// </summary>
internal sealed class ReadingSearch
{
    private readonly AlignmentGrid grid;
    private readonly IReadOnlyList<TimelineSegment> segments;
    private readonly SegmentEvidence[] evidence;
    private readonly double[][] best;
    private readonly int[][] from;
    private readonly int[][] before;
    private readonly double opening;
    private readonly (int First, int Last) within;

    private ReadingSearch(AlignmentGrid grid, DrillTimeline timeline, (int First, int Last) within, FlownEntry? entry)
    {
        this.within = within;
        this.grid = grid;
        segments = timeline.Segments;
        evidence = [.. segments.Select(s => new SegmentEvidence(grid, s, entry))];
        best = new double[segments.Count][];
        from = new int[segments.Count][];
        before = new int[segments.Count][];
        opening = -Math.Log(grid.Count);
        for (var k = 0; k < segments.Count; k++)
            Extend(k);
    }

    /// <summary>The likeliest reading; null where no segment can be placed.</summary>
    /// <param name="grid">The stretch to look in.</param>
    /// <param name="timeline">The drill resolved for its entry.</param>
    /// <param name="prior">How likely the drill is to be flown to this side, 0 to 1.</param>
    public static Alignment? Best(AlignmentGrid grid, DrillTimeline timeline, double prior = 1)
    {
        if (new ReadingSearch(grid, timeline, (0, grid.Count), null).Trace() is not { } whole)
            return null;
        // The first reading shows the entry; with it headings and altitudes can be held against the plan's own.
        var around = (
            grid.IndexAt(whole.StartS - ReadingModel.SecondLookS),
            Math.Min(grid.Count, grid.IndexAt(whole.EndS + ReadingModel.SecondLookS) + 1)
        );
        whole = new ReadingSearch(grid, timeline, around, FlownEntry.Of(grid, timeline, whole)).Trace() ?? whole;
        var alignment = PartialSegments.Mark(grid, timeline, whole with { LogOdds = whole.LogOdds + Math.Log(prior) });
        return alignment with { Confidence = AlignmentConfidence.Of(grid, timeline, alignment) };
    }

    private bool IsManeuver(int k) => segments[k].Kind != SegmentKind.LevelStraight;

    private void Extend(int k)
    {
        var (starts, endedAt) = Starts(k);
        var (skipped, flown) = IsManeuver(k) ? Odds(ReadingModel.SkippedManeuver) : Odds(ReadingModel.SkippedStraight);
        var value = new double[grid.Count + 1];
        var source = new int[grid.Count + 1];
        var hopeless = Math.Max(opening, starts.Max()) + ReadingModel.HopelessLogOdds;
        for (var t = 0; t <= grid.Count; t++)
        {
            value[t] = starts[t] + skipped;
            source[t] = -1;
        }

        for (var s = within.First; s < within.Last; s++)
        {
            if (!(starts[s] > hopeless))
                continue;
            evidence[k].Begin(s);
            var begun = starts[s] + flown;
            var most = Math.Min(evidence[k].Longest, within.Last - s);
            for (var d = evidence[k].Shortest; d <= most; d++)
            {
                grid.LengthsTried++;
                var odds = begun + evidence[k].LogOdds(s + d, value[s + d] - begun, out var rates);
                if (odds > value[s + d])
                    (value[s + d], source[s + d]) = (odds, s);
                if (rates < ReadingModel.HopelessLogOdds)
                    break;
            }
        }

        (best[k], from[k], before[k]) = (value, source, endedAt);
    }

    /// <summary>Log odds of everything before a segment that begins at each time, and where the segment before ended.</summary>
    private (double[] Starts, int[] EndedAt) Starts(int k)
    {
        var starts = new double[grid.Count + 1];
        var endedAt = new int[grid.Count + 1];
        if (k == 0)
        {
            for (var t = 0; t <= grid.Count; t++)
                (starts[t], endedAt[t]) = (opening + (IsManeuver(0) ? evidence[0].Flank(t, -1) : 0), t);
            return (starts, endedAt);
        }

        var (pause, on) = Odds(ReadingModel.OtherFlight);
        var fading = grid.StepS / ReadingModel.OtherFlightMeanS;
        pause += Math.Log(fading);
        var (other, since) = (double.NegativeInfinity, 0);
        for (var t = 0; t <= grid.Count; t++)
        {
            (starts[t], endedAt[t]) = (best[k - 1][t] + on, t);
            other -= fading;
            if (other > starts[t])
                (starts[t], endedAt[t]) = (other, since);
            if (best[k - 1][t] + pause > other)
                (other, since) = (best[k - 1][t] + pause, t);
        }

        // The recording begins inside the drill: with this segment, or within the one before it.
        var cut = opening + Math.Log(ReadingModel.CutByRecording / segments.Count);
        var latest = Math.Min(grid.Count, (int)(segments[k - 1].DurationS / grid.StepS));
        for (var t = 0; t <= latest; t++)
        {
            if (cut > starts[t])
                (starts[t], endedAt[t]) = (cut, -1);
        }

        return (starts, endedAt);
    }

    private Alignment? Trace()
    {
        var (lastSegment, end, total) = (-1, 0, double.NegativeInfinity);
        var givenUp = Math.Log(ReadingModel.GivenUp);
        var cut = Math.Log(ReadingModel.CutByRecording / segments.Count);
        for (var k = 0; k < segments.Count; k++)
        {
            for (var t = 0; t <= grid.Count; t++)
            {
                if (from[k][t] < 0)
                    continue;
                var ending =
                    k == segments.Count - 1 ? (IsManeuver(k) ? evidence[k].Flank(t, 1) : 0)
                    : t >= grid.Count - 1 ? cut
                    : givenUp;
                if (best[k][t] + ending > total)
                    (lastSegment, end, total) = (k, t, best[k][t] + ending);
            }
        }

        if (lastSegment < 0 || double.IsNegativeInfinity(total))
            return null;
        var matches = new SegmentMatch[segments.Count];
        for (var k = 0; k < segments.Count; k++)
            matches[k] = new SegmentMatch(k, SegmentStatus.Skipped, double.NaN, double.NaN);
        for (var (k, t) = (lastSegment, end); k >= 0 && t >= 0; k--)
        {
            var start = from[k][t];
            if (start >= 0)
                matches[k] = new SegmentMatch(k, SegmentStatus.Flown, grid.TimeS(start), grid.TimeS(t));
            t = before[k][start < 0 ? t : start];
        }

        var aborted = lastSegment < segments.Count - 1;
        return new Alignment(matches, 0, aborted) { LogOdds = total };
    }

    private static (double Yes, double No) Odds(double probability) => (Math.Log(probability), Math.Log(1 - probability));
}
