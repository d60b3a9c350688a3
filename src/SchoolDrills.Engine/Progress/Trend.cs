namespace SchoolDrills.Engine.Progress;

/// <summary>Change from attempt to attempt.</summary>
/// <remarks>
/// The median of the slopes between all pairs, after Theil and Sen: one bad day does not reverse it (Sen, P. K., "Estimates of the
/// regression coefficient based on Kendall's tau", Journal of the American Statistical Association 63, 1968, 1379–1389).
/// </remarks>
public static class Trend
{
    /// <summary>Fewest attempts that show a trend.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int FewestAttempts = 4;

    /// <summary>Change an attempt, in the unit of the values, or null with fewer than <see cref="FewestAttempts"/> values.</summary>
    /// <param name="values">One value an attempt, oldest first.</param>
    public static double? PerAttempt(IReadOnlyList<double> values)
    {
        if (values.Count < FewestAttempts)
            return null;
        var attempts = Enumerable.Range(0, values.Count).Select(i => (double)i).ToList();
        return Slope(attempts, values);
    }

    /// <summary>Theil–Sen slope: the median over all pairs of points at different x; NaN where there is no such pair.</summary>
    /// <param name="x">Where, one a point.</param>
    /// <param name="y">Value, one a point.</param>
    /// <exception cref="ArgumentException">The two are not of one length.</exception>
    public static double Slope(IReadOnlyList<double> x, IReadOnlyList<double> y)
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

        if (slopes.Count == 0)
            return double.NaN;
        slopes.Sort();
        var middle = slopes.Count / 2;
        return slopes.Count % 2 == 1 ? slopes[middle] : (slopes[middle - 1] + slopes[middle]) / 2;
    }
}
