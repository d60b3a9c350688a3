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
    private readonly int[][] flownFirst;
    private readonly double[][] begun;
    private readonly int[][] begunAt;
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
        flownFirst = new int[segments.Count][];
        begun = new double[segments.Count][];
        begunAt = new int[segments.Count][];
        opening = -Math.Log(grid.Count);
        for (var k = 0; k < segments.Count; k++)
            Extend(k);
    }

    /// <summary>The likeliest reading; null where no segment can be placed.</summary>
    /// <param name="grid">The stretch to look in.</param>
    /// <param name="timeline">The drill resolved for its entry.</param>
    public static Alignment? Best(AlignmentGrid grid, DrillTimeline timeline) => All(grid, timeline, 1).FirstOrDefault();

    /// <summary>Readings of which none is out of the question beside another, the likeliest first; none where none can be placed.</summary>
    /// <param name="grid">The stretch to look in.</param>
    /// <param name="timeline">The drill resolved for its entry.</param>
    /// <param name="prior">How likely the drill is to be flown to this side, 0 to 1.</param>
    public static List<Alignment> All(AlignmentGrid grid, DrillTimeline timeline, double prior)
    {
        var firstLook = new ReadingSearch(grid, timeline, (0, grid.Count), null);
        List<Alignment> readings = [];
        foreach (var seen in firstLook.Different())
        {
            // The first look shows the entry; with it headings and altitudes can be held against the plan's own.
            var around = (
                grid.IndexAt(seen.StartS - ReadingModel.SecondLookS),
                Math.Min(grid.Count, grid.IndexAt(seen.EndS + ReadingModel.SecondLookS) + 1)
            );
            var secondLook = new ReadingSearch(grid, timeline, around, FlownEntry.Of(grid, timeline, seen));
            // A rival's second look is for itself: the likeliest was looked at before.
            var whole =
                (readings.Count == 0 ? secondLook.Different().FirstOrDefault() : secondLook.Different().FirstOrDefault(seen.Resembles))
                ?? seen;
            var alignment = PartialSegments.Mark(grid, timeline, whole with { LogOdds = whole.LogOdds + Math.Log(prior) });
            readings.Add(alignment with { Confidence = AlignmentConfidence.Of(grid, timeline, alignment) });
            // Where the likeliest is no drill, the others are none either.
            if (readings[0].Confidence < ReadingModel.HardlyADrill)
                break;
        }

        readings.Sort((a, b) => b.LogOdds.CompareTo(a.LogOdds));
        return readings;
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

        var part = new double[grid.Count + 1];
        var partFrom = new int[grid.Count + 1];
        Array.Fill(part, double.NegativeInfinity);
        for (var s = within.First; s < within.Last; s++)
        {
            if (starts[s] > hopeless)
                Fly(k, s, starts[s] + flown, (value, source), (part, partFrom));
        }

        (best[k], from[k], before[k], flownFirst[k]) = (value, source, endedAt, source);
        (begun[k], begunAt[k]) = (part, partFrom);
        if (IsManeuver(k))
            FlyAgain(k, starts, hopeless);
    }

    /// <summary>Tries every end of a segment begun at one start.</summary>
    /// <param name="k">The segment.</param>
    /// <param name="start">Where it begins.</param>
    /// <param name="here">Log odds of all that comes before it.</param>
    /// <param name="whole">Best value and start for each end, to improve.</param>
    /// <param name="part">The same for the segment given up; null where that is not asked.</param>
    private void Fly(int k, int start, double here, (double[] Value, int[] From) whole, (double[] Value, int[] From)? part)
    {
        // A maneuver given up ends anywhere short of its end; a straight given up looks like any other.
        var nominal = segments[k].DurationS / grid.StepS;
        var shortest = evidence[k].Shortest;
        var shortestPart = part is null ? shortest : Math.Max(1, (int)(AlignmentModel.ShortestPartS / grid.StepS));
        var longestPart = part is not null && IsManeuver(k) && k > 0 ? (int)(AlignmentModel.WholeShare * nominal) : 0;
        var anywhere = -Math.Log(Math.Max(1, nominal));
        evidence[k].Begin(start);
        var most = Math.Min(evidence[k].Longest, within.Last - start);
        for (var d = Math.Min(shortest, shortestPart); d <= most; d++)
        {
            grid.LengthsTried++;
            var t = start + d;
            var odds = here + evidence[k].LogOdds(t, whole.Value[t] - here, out var rates);
            if (d >= shortest && odds > whole.Value[t])
                (whole.Value[t], whole.From[t]) = (odds, start);
            if (d >= shortestPart && d <= longestPart && here + rates + anywhere > part!.Value.Value[t])
                (part.Value.Value[t], part.Value.From[t]) = (here + rates + anywhere, start);
            if (rates < ReadingModel.HopelessLogOdds)
                break;
        }
    }

    /// <summary>Lets a maneuver be flown again at once; its last rendition is the one that counts.</summary>
    private void FlyAgain(int k, double[] starts, double hopeless)
    {
        var (once, onceFrom) = (best[k], from[k]);
        (best[k], from[k], flownFirst[k]) = ([.. once], [.. onceFrom], [.. onceFrom]);
        var again = Math.Log(ReadingModel.FlownAgain);
        for (var s = within.First; s < within.Last; s++)
        {
            // What says nothing for the maneuver is no rendition of it.
            if (onceFrom[s] >= 0 && once[s] > Math.Max(starts[onceFrom[s]], hopeless - again))
                Fly(k, s, once[s] + again, (best[k], from[k]), null);
        }

        for (var t = 0; t <= grid.Count; t++)
        {
            if (best[k][t] > once[t])
                flownFirst[k][t] = onceFrom[from[k][t]];
        }
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

        if (!grid.BeginsRecording)
            return (starts, endedAt);
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

    /// <summary>
    /// Readings that differ in what was flown when, the likeliest first: each the best of those that end with the same segment at about
    /// the same time. What is out of the question beside the best is left out.
    /// </summary>
    private IEnumerable<Alignment> Different()
    {
        var likeliest = double.NegativeInfinity;
        List<Alignment> told = [];
        foreach (var (segment, end, part, odds) in Endings().OrderByDescending(e => e.Odds))
        {
            likeliest = Math.Max(likeliest, odds);
            if (told.Count == ReadingModel.MostReadings || !(odds >= likeliest - ReadingModel.OutOfTheQuestion))
                yield break;
            var reading = Trace(segment, end, part, odds);
            if (!told.Exists(t => t.Resembles(reading)))
            {
                told.Add(reading);
                yield return reading;
            }
        }
    }

    /// <summary>The best end of each segment as the last one flown, whole or in part, in each stretch of time.</summary>
    private IEnumerable<(int Segment, int End, bool Part, double Odds)> Endings()
    {
        var givenUp = Math.Log(ReadingModel.GivenUp);
        var cut = Math.Log(ReadingModel.CutByRecording / segments.Count);
        var apart = Math.Max(1, (int)(ReadingModel.EndingsApartS / grid.StepS));
        for (var k = 0; k < segments.Count; k++)
        {
            for (var first = 0; first <= grid.Count; first += apart)
            {
                var (end, part, most) = (-1, false, double.NegativeInfinity);
                for (var t = first; t < Math.Min(first + apart, grid.Count + 1); t++)
                {
                    var brokenOff = begun[k][t] + (IsCut(t) ? cut : givenUp + evidence[k].Flank(t, 1));
                    if (brokenOff > most)
                        (end, part, most) = (t, true, brokenOff);
                    if (from[k][t] < 0)
                        continue;
                    var ending =
                        k == segments.Count - 1 ? (IsManeuver(k) ? evidence[k].Flank(t, 1) : 0)
                        : IsCut(t) ? cut
                        : givenUp;
                    if (best[k][t] + ending > most)
                        (end, part, most) = (t, false, best[k][t] + ending);
                }

                if (end >= 0 && double.IsFinite(most))
                    yield return (k, end, part, most);
            }
        }
    }

    private bool IsCut(int end) => grid.EndsRecording && end >= grid.Count - 1;

    private Alignment Trace(int lastSegment, int end, bool part, double odds)
    {
        var matches = new SegmentMatch[segments.Count];
        for (var k = 0; k < segments.Count; k++)
            matches[k] = new SegmentMatch(k, SegmentStatus.Skipped, double.NaN, double.NaN);
        for (var (k, t) = (lastSegment, end); k >= 0 && t >= 0; k--)
        {
            var inPart = part && k == lastSegment;
            var start = inPart ? begunAt[k][t] : from[k][t];
            var first = inPart ? start : flownFirst[k][t];
            if (start >= 0)
            {
                matches[k] = new SegmentMatch(k, inPart ? SegmentStatus.Partial : SegmentStatus.Flown, grid.TimeS(start), grid.TimeS(t))
                {
                    FirstStartS = first == start ? null : grid.TimeS(first),
                };
            }

            t = before[k][start < 0 ? t : first];
        }

        return new Alignment(matches, 0, part || lastSegment < segments.Count - 1) { LogOdds = odds };
    }

    private static (double Yes, double No) Odds(double probability) => (Math.Log(probability), Math.Log(1 - probability));
}
