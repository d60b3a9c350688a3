namespace SchoolDrills.Engine.Progress;

/// <summary>The change from attempt to attempt, by the median of all slopes (Theil 1950, Sen 1968): one bad day does not turn it.</summary>
public static class Trend
{
    /// <summary>Fewest attempts from which a trend is told.</summary>
    public const int FewestAttempts = 4;

    /// <summary>Change of a value an attempt, in the value's unit; null with fewer than <see cref="FewestAttempts"/>.</summary>
    /// <param name="values">One value an attempt, oldest first.</param>
    public static double? PerAttempt(ReadOnlySpan<double> values)
    {
        if (values.Length < FewestAttempts) return null;
        var slopes = new List<double>(values.Length * (values.Length - 1) / 2);
        for (var later = 1; later < values.Length; later++)
        {
            for (var earlier = 0; earlier < later; earlier++)
                slopes.Add((values[later] - values[earlier]) / (later - earlier));
        }

        slopes.Sort();
        var middle = slopes.Count / 2;
        return slopes.Count % 2 == 1 ? slopes[middle] : (slopes[middle - 1] + slopes[middle]) / 2;
    }
}
