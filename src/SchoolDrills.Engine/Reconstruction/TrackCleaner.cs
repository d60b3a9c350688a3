using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>Puts a recording in order: sorts by time, drops duplicates and jumps that no aeroplane makes, marks gaps.</summary>
public static class TrackCleaner
{
    /// <summary>Samples either side in the running median that jumps are judged against.</summary>
    private const int HalfWindow = 4;

    /// <summary>A sample this far from the running median is a jump whatever the aeroplane does, metres.</summary>
    private const double JumpFloorM = 150;

    /// <summary>Cleans a recording; null when fewer than ten usable samples remain.</summary>
    /// <param name="track">The recording as read.</param>
    public static CleanTrack? Clean(Track track)
    {
        var usable = Enumerable.Range(0, track.Count)
            .Where(i => double.IsFinite(track.TimeS[i]) && double.IsFinite(track.LatDeg[i]) && double.IsFinite(track.LonDeg[i]))
            .ToArray();
        // A stable sort keeps the file's order among equal times, so that the first of a duplicate pair stays.
        var order = usable.OrderBy(i => track.TimeS[i]).ToArray();
        var distinct = new List<int>(order.Length);
        foreach (var i in order)
        {
            if (distinct.Count == 0 || track.TimeS[i] - track.TimeS[distinct[^1]] > 1e-3) distinct.Add(i);
        }

        if (distinct.Count < 10) return null;

        var frame = new LocalFrame(Median(distinct.Select(i => track.LatDeg[i])), Median(distinct.Select(i => track.LonDeg[i])), 0);
        var east = new double[distinct.Count];
        var north = new double[distinct.Count];
        for (var k = 0; k < distinct.Count; k++)
        {
            (east[k], north[k], _) = frame.ToLocal(track.LatDeg[distinct[k]], track.LonDeg[distinct[k]], 0);
        }

        var keep = NotJumps(east, north);
        if (keep.Length < 10) return null;

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
    /// Keeps the samples near the running median of their neighbours. The allowance grows with the steps usual around a sample, so
    /// that a slow recording of a fast aeroplane passes and a single wild point does not.
    /// </summary>
    private static int[] NotJumps(double[] east, double[] north)
    {
        var keep = new List<int>(east.Length);
        var steps = new double[2 * HalfWindow];
        for (var i = 0; i < east.Length; i++)
        {
            var from = Math.Max(0, Math.Min(i - HalfWindow, east.Length - (2 * HalfWindow) - 1));
            var to = Math.Min(east.Length - 1, from + (2 * HalfWindow));
            var middleEast = Median(east.AsSpan(from, to - from + 1));
            var middleNorth = Median(north.AsSpan(from, to - from + 1));
            for (var k = from; k < to; k++) steps[k - from] = Math.Sqrt(Square(east[k + 1] - east[k]) + Square(north[k + 1] - north[k]));
            var usualStepM = Median(steps.AsSpan(0, to - from));
            var awayM = Math.Sqrt(Square(east[i] - middleEast) + Square(north[i] - middleNorth));
            if (awayM <= JumpFloorM + (2.0 * HalfWindow * usualStepM)) keep.Add(i);
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
