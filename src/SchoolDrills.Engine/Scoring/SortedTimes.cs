namespace SchoolDrills.Engine.Scoring;

/// <summary>Look-ups in rising sample times.</summary>
internal static class SortedTimes
{
    /// <summary>Index of the first sample at or after a time.</summary>
    public static int LowerBound(double[] timeS, double atS)
    {
        var at = Array.BinarySearch(timeS, atS);
        return at < 0 ? ~at : at;
    }
}
