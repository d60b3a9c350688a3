namespace SchoolDrills.Engine.Progress;

/// <summary>How many of some attempts were not met, and how well that share is known.</summary>
/// <remarks>Wilson's score interval (<see cref="ShareInterval"/>); segments of one attempt repeat one another and count as fewer.</remarks>
/// <param name="Attempts">Attempts counted.</param>
/// <param name="NotMet">Of these, or of their segments, not met.</param>
/// <param name="NotMetShare">Share not met, 0 to 1; null with too few attempts.</param>
/// <param name="Interval">Its 80 % interval.</param>
/// <param name="Reason">Why no share is given.</param>
public sealed record CountedShare(int Attempts, int NotMet, double? NotMetShare, Interval? Interval, string? Reason)
{
    /// <summary>Of attempts as a whole.</summary>
    /// <param name="attempts">Attempts with a verdict.</param>
    /// <param name="notMet">Of these, not met.</param>
    public static CountedShare Of(int attempts, int notMet) => Of(attempts, attempts, notMet);

    /// <summary>Of like segments.</summary>
    /// <param name="attempts">Attempts with a verdict on one of them.</param>
    /// <param name="segments">Segments with a verdict.</param>
    /// <param name="notMet">Of these, not met.</param>
    /// <exception cref="ArgumentOutOfRangeException">More not met than there are.</exception>
    public static CountedShare Of(int attempts, int segments, int notMet)
    {
        if (notMet < 0 || notMet > segments)
            throw new ArgumentOutOfRangeException(nameof(notMet), notMet, $"There are {segments}.");
        if (attempts < ProgressModel.FewestAttempts)
            return new(attempts, notMet, null, null, ProgressModel.TooLittle(attempts, ProgressModel.FewestAttempts));
        var share = notMet / (double)segments;
        return new(attempts, notMet, share, ShareInterval.OfSamples(share, SegmentTally.SamplesOf(attempts, segments)), null);
    }

    /// <summary>Nearly everybody fails: ten attempts or more, and the whole interval lies above eight in ten.</summary>
    public bool IsNearlyAll =>
        Attempts >= ProgressModel.FewestForNearlyAll && Interval is { } interval && interval.Lo > ProgressModel.NearlyAllShare;
}
