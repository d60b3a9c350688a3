namespace SchoolDrills.Engine.Progress;

/// <summary>The median of whole days, of counts by day.</summary>
public static class MedianDays
{
    /// <summary>The median, the lower of two middle ones; null with fewer than three, and why.</summary>
    /// <param name="counts">Days and how often each occurred, in any order.</param>
    public static (int? Days, string? Reason) Of(IEnumerable<(int Days, int Count)> counts)
    {
        var ordered = counts.OrderBy(c => c.Days).ToList();
        var all = ordered.Sum(c => c.Count);
        if (all < ProgressModel.FewestAttempts)
            return (null, ProgressModel.TooLittle(all, ProgressModel.FewestAttempts));
        var passed = 0;
        return (ordered.First(c => (passed += c.Count) >= (all + 1) / 2).Days, null);
    }
}
