namespace SchoolDrills.Benchmarks;

/// <summary>
/// Two ways of doing something, measured in turns so that a drift of the machine's speed falls on both. Times are of the processor, not
/// of the clock on the wall: what else the machine does is not counted, and what the collector does is.
/// </summary>
/// <param name="OursMs">Median of ours, milliseconds.</param>
/// <param name="TheirsMs">Median of the other, milliseconds.</param>
/// <param name="Ratio">Median, over the turns, of ours by the other.</param>
internal readonly record struct Paired(double OursMs, double TheirsMs, double Ratio)
{
    /// <summary>What is quicker than this is repeated, or its time would be lost in the clock's grain.</summary>
    private const double LeastMs = 20;

    public static Paired Of(int rounds, Action ours, Action theirs)
    {
        var (ourTimes, theirTimes) = (Repeats(ours), Repeats(theirs));
        var times = new (double Ours, double Theirs)[rounds];
        for (var i = 0; i < rounds; i++)
            times[i] = (Milliseconds(ours, ourTimes), Milliseconds(theirs, theirTimes));
        return new Paired(
            Median(times.Select(t => t.Ours)),
            Median(times.Select(t => t.Theirs)),
            Median(times.Select(t => t.Ours / t.Theirs))
        );
    }

    /// <summary>Median time of one thing, milliseconds.</summary>
    public static double Of(int rounds, Action action)
    {
        var repeats = Repeats(action);
        return Median(Enumerable.Range(0, rounds).Select(_ => Milliseconds(action, repeats)));
    }

    public static long Allocated(Action action)
    {
        var before = GC.GetAllocatedBytesForCurrentThread();
        action();
        return GC.GetAllocatedBytesForCurrentThread() - before;
    }

    public static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToArray();
        return sorted[sorted.Length / 2];
    }

    private static int Repeats(Action action)
    {
        action();
        return Math.Max(1, (int)(LeastMs / Math.Max(0.01, Milliseconds(action, 1))));
    }

    private static double Milliseconds(Action action, int repeats)
    {
        var start = Environment.CpuUsage.TotalTime;
        for (var i = 0; i < repeats; i++)
            action();
        return (Environment.CpuUsage.TotalTime - start).TotalMilliseconds / repeats;
    }
}
