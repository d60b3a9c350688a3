using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>Puts a recording in order: sorts by time, drops duplicates and jumps that no aeroplane makes, marks gaps.</summary>
public static class TrackCleaner
{
    /// <summary>
    /// The nearest of a pair of neighbours that foretells where a sample should be is so many samples away at most; so many pairs must
    /// agree with it.
    /// </summary>
    private const int Farthest = 3,
        Agreeing = 2;

    /// <summary>A sample this far from where its neighbours foretell it is a jump whatever the aeroplane does, metres.</summary>
    private const double JumpFloorM = 60;

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
        var gapS = Math.Max(5, 4 * medianIntervalS);
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
    /// Keeps the samples that lie where two pairs of their neighbours foretell them: between one before and one after, or on from two on
    /// one side, never across a gap. In a turn the nearest pairs are off by up to the length of a step, so the allowance grows with the
    /// usual step and a slow recording of a fast aeroplane passes. Up to three samples that jumped together are found; what stays away
    /// longer is not a jump.
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

        var allowedM = JumpFloorM + Median(steps);
        var gapS = Math.Max(5, 4 * Median(intervals));
        var run = new int[n];
        for (var i = 1; i < n; i++)
            run[i] = run[i - 1] + (intervals[i - 1] > gapS ? 1 : 0);

        var keep = new List<int>(n);
        for (var i = 0; i < n; i++)
        {
            int asked = 0,
                agreed = 0;
            for (var k = 1; k <= Farthest; k++)
            {
                Ask(i - k, i + k);
                Ask(i + k, i + (2 * k));
                Ask(i - k, i - (2 * k));
            }

            if (agreed >= Math.Min(Agreeing, asked))
                keep.Add(i);

            void Ask(int a, int b)
            {
                if (Math.Min(a, b) < 0 || Math.Max(a, b) >= n || run[a] != run[i] || run[b] != run[i])
                    return;
                asked++;
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

    private static double Median(IEnumerable<double> values) => Median([.. values]);

    private static double Median(ReadOnlySpan<double> values)
    {
        var sorted = values.ToArray();
        Array.Sort(sorted);
        return sorted.Length == 0 ? double.NaN : sorted[sorted.Length / 2];
    }
}
