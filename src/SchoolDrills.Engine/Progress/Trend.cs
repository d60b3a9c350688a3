namespace SchoolDrills.Engine.Progress;

/// <summary>Change from attempt to attempt.</summary>
/// <remarks>
/// The median of the slopes between all pairs, after Theil and Sen: one bad day does not reverse it. Its interval runs between two of
/// these slopes in their order: that many pairs out of order are as rare among attempts without a trend as the interval says, which is
/// counted exactly (Sen, P. K., "Estimates of the regression coefficient based on Kendall's tau", Journal of the American Statistical
/// Association 63, 1968, 1379–1389). Between whole numbers of pairs it is interpolated, or a few attempts would have far too wide a one.
/// </remarks>
/// <param name="PerAttempt">Change an attempt, in the unit of the values; null where none is claimed.</param>
/// <param name="Interval">Its 80 % interval; null with too few attempts.</param>
/// <param name="Reason">Why none is claimed.</param>
public sealed record Trend(double? PerAttempt, Interval? Interval, string? Reason)
{
    /// <summary>The trend of the newest attempts; none is claimed with fewer than five, nor where the interval holds zero.</summary>
    /// <param name="values">One value an attempt, oldest first.</param>
    public static Trend Of(IReadOnlyList<double> values)
    {
        if (values.Count < ProgressModel.FewestForTrend)
            return new(null, null, ProgressModel.TooLittle(values.Count, ProgressModel.FewestForTrend));
        var newest = values.Skip(values.Count - ProgressModel.MostForTrend).ToList();
        var slopes = Slopes([.. Enumerable.Range(0, newest.Count).Select(i => (double)i)], newest);
        var interval = IntervalOf(slopes, newest.Count);
        return interval is { Lo: <= 0, Hi: >= 0 } ? new(null, interval, "no clear trend") : new(Median(slopes), interval, null);
    }

    /// <summary>Theil–Sen slope: the median over all pairs of points at different x; NaN where there is no such pair.</summary>
    /// <param name="x">Where, one a point.</param>
    /// <param name="y">Value, one a point.</param>
    /// <exception cref="ArgumentException">The two are not of one length.</exception>
    public static double Slope(IReadOnlyList<double> x, IReadOnlyList<double> y) => Median(Slopes(x, y));

    /// <summary>Bounds of the slope among the ordered slopes of that many points at different x.</summary>
    internal static Interval IntervalOf(IReadOnlyList<double> slopes, int points)
    {
        var ways = OutOfOrder(points);
        var all = ways.Sum();
        var (pairs, below) = (0, 0.0);
        while (below + (ways[pairs] / all) <= ProgressModel.Tail)
            below += ways[pairs++] / all;
        var part = (ProgressModel.Tail - below) / (ways[pairs] / all);
        return new(At(pairs, +1), At(slopes.Count - 1 - pairs, -1));

        double At(int index, int inward)
        {
            var outer = slopes[index - inward];
            return outer + (part * (slopes[index] - outer));
        }
    }

    /// <summary>How many orders of the points have 0, 1, 2 … pairs out of order: Kendall's distribution.</summary>
    internal static double[] OutOfOrder(int points)
    {
        double[] ways = [1];
        for (var n = 2; n <= points; n++)
        {
            var next = new double[(n * (n - 1) / 2) + 1];
            for (var i = 0; i < ways.Length; i++)
            {
                for (var more = 0; more < n; more++)
                    next[i + more] += ways[i];
            }

            ways = next;
        }

        return ways;
    }

    private static List<double> Slopes(IReadOnlyList<double> x, IReadOnlyList<double> y)
    {
        if (x.Count != y.Count)
            throw new ArgumentException($"{x.Count} places have {y.Count} values.", nameof(y));
        var slopes = new List<double>();
        for (var i = 0; i < x.Count; i++)
        {
            for (var j = i + 1; j < x.Count; j++)
            {
                if (x[i] != x[j])
                    slopes.Add((y[j] - y[i]) / (x[j] - x[i]));
            }
        }

        slopes.Sort();
        return slopes;
    }

    private static double Median(List<double> sorted)
    {
        var middle = sorted.Count / 2;
        return sorted.Count == 0 ? double.NaN
            : sorted.Count % 2 == 1 ? sorted[middle]
            : (sorted[middle - 1] + sorted[middle]) / 2;
    }
}
