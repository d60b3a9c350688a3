using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>Cleans a recording: sorts by time, drops duplicates and position jumps, marks gaps.</summary>
public static class TrackCleaner
{
    /// <summary>
    /// A pair of neighbors that predicts the place of a sample has its nearer one at most so many samples away; so many pairs must agree.
    /// </summary>
    private const int Farthest = 3,
        Agreeing = 2;

    /// <summary>Cleans a recording; null when fewer than ten usable samples remain.</summary>
    /// <param name="track">The recording as read.</param>
    public static CleanTrack? Clean(Track track)
    {
        var usable = Enumerable
            .Range(0, track.Count)
            .Where(i => double.IsFinite(track.TimeS[i]) && double.IsFinite(track.LatDeg[i]) && double.IsFinite(track.LonDeg[i]))
            .ToArray();
        // A stable sort keeps the file's order among equal times, so that the first of a duplicate pair stays.
        var order = usable.OrderBy(i => track.TimeS[i]).ToArray();
        var distinct = new List<int>(order.Length);
        foreach (var i in order)
        {
            if (distinct.Count == 0 || track.TimeS[i] - track.TimeS[distinct[^1]] > 1e-3)
                distinct.Add(i);
        }

        if (distinct.Count < 10)
            return null;

        var frame = new LocalFrame(Median(distinct.Select(i => track.LatDeg[i])), Median(distinct.Select(i => track.LonDeg[i])), 0);
        var east = new double[distinct.Count];
        var north = new double[distinct.Count];
        for (var k = 0; k < distinct.Count; k++)
        {
            (east[k], north[k], _) = frame.ToLocal(track.LatDeg[distinct[k]], track.LonDeg[distinct[k]], 0);
        }

        var times = distinct.ConvertAll(i => track.TimeS[i]).ToArray();
        var keep = NotJumps(times, east, north);
        if (keep.Length < 10)
            return null;

        var timeS = Array.ConvertAll(keep, k => track.TimeS[distinct[k]]);
        var medianIntervalS = Median(Enumerable.Range(1, timeS.Length - 1).Select(k => timeS[k] - timeS[k - 1]));
        var gapS = CleanTrack.GapFor(medianIntervalS);
        return new CleanTrack
        {
            Source = track,
            Kept = Array.ConvertAll(keep, k => distinct[k]),
            TimeS = timeS,
            Frame = frame,
            EastM = Array.ConvertAll(keep, k => east[k]),
            NorthM = Array.ConvertAll(keep, k => north[k]),
            GapsAfter = [.. Enumerable.Range(0, timeS.Length - 1).Where(k => timeS[k + 1] - timeS[k] > gapS)],
            Dropped = track.DroppedRecords + track.Count - keep.Length,
            MedianIntervalS = medianIntervalS,
        };
    }

    /// <summary>
    /// Keeps the samples that lie where two pairs of neighbors predict them: between one before and one after, or beyond two on one side,
    /// never across a gap. In a turn even the nearest pairs are off by up to one step, so the allowance grows with the usual step and a
    /// slow
    /// recording of a fast aeroplane passes. Up to three samples that jumped together are found; a longer excursion is not a jump.
    /// </summary>
    private static int[] NotJumps(double[] timeS, double[] east, double[] north)
    {
        var n = timeS.Length;
        var steps = new double[n - 1];
        var intervals = new double[n - 1];
        for (var i = 0; i < n - 1; i++)
        {
            steps[i] = Math.Sqrt(Square(east[i + 1] - east[i]) + Square(north[i + 1] - north[i]));
            intervals[i] = timeS[i + 1] - timeS[i];
        }

        var allowedM = SensorModel.JumpM + Median(steps);
        var gapS = CleanTrack.GapFor(Median(intervals));
        var run = new int[n];
        for (var i = 1; i < n; i++)
            run[i] = run[i - 1] + (intervals[i - 1] > gapS ? 1 : 0);

        var keep = new List<int>(n);
        for (var i = 0; i < n; i++)
        {
            int pairs = 0,
                agreed = 0;
            for (var k = 1; k <= Farthest; k++)
            {
                Check(i - k, i + k);
                Check(i + k, i + (2 * k));
                Check(i - k, i - (2 * k));
            }

            if (agreed >= Math.Min(Agreeing, pairs))
                keep.Add(i);

            void Check(int a, int b)
            {
                if (Math.Min(a, b) < 0 || Math.Max(a, b) >= n || run[a] != run[i] || run[b] != run[i])
                    return;
                pairs++;
                var share = (timeS[i] - timeS[a]) / (timeS[b] - timeS[a]);
                var awayM = Math.Sqrt(
                    Square(east[a] + (share * (east[b] - east[a])) - east[i])
                        + Square(north[a] + (share * (north[b] - north[a])) - north[i])
                );
                if (awayM <= allowedM)
                    agreed++;
            }
        }

        return [.. keep];
    }

    private static double Square(double x) => x * x;

    /// <summary>The middle value, the higher of two; NaN of none.</summary>
    internal static double Median(IEnumerable<double> values) => Median([.. values]);

    private static double Median(ReadOnlySpan<double> values)
    {
        var sorted = values.ToArray();
        Array.Sort(sorted);
        return sorted.Length == 0 ? double.NaN : sorted[sorted.Length / 2];
    }
}
