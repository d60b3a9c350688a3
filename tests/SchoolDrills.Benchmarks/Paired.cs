using System.Diagnostics;

namespace SchoolDrills.Benchmarks;

/// <summary>Two ways of doing something, timed in turns so that a drift of the machine's speed falls on both.</summary>
/// <param name="OursMs">Median time of ours, milliseconds.</param>
/// <param name="TheirsMs">Median time of the other, milliseconds.</param>
/// <param name="Ratio">Median, over the turns, of ours by the other.</param>
internal readonly record struct Paired(double OursMs, double TheirsMs, double Ratio)
{
    public static Paired Of(int rounds, Action ours, Action theirs)
    {
        ours();
        theirs();
        var times = new (double Ours, double Theirs)[rounds];
        for (var i = 0; i < rounds; i++) times[i] = (Milliseconds(ours), Milliseconds(theirs));
        return new Paired(Median(times.Select(t => t.Ours)), Median(times.Select(t => t.Theirs)), Median(times.Select(t => t.Ours / t.Theirs)));
    }

    public static double Milliseconds(Action action)
    {
        GC.Collect();
        var start = Stopwatch.GetTimestamp();
        action();
        return Stopwatch.GetElapsedTime(start).TotalMilliseconds;
    }

    public static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToArray();
        return sorted[sorted.Length / 2];
    }

    public static long Allocated(Action action)
    {
        var before = GC.GetAllocatedBytesForCurrentThread();
        action();
        return GC.GetAllocatedBytesForCurrentThread() - before;
    }
}
