namespace SchoolDrills.Engine.Progress;

/// <summary>
/// How far a share of time in tolerance may be trusted: Wilson's score interval (E. B. Wilson, J. Am. Stat. Assoc. 22, 1927), which stays
/// within 0 and 1 and does not collapse at a share of 0 or 1.
/// </summary>
/// <param name="Lo">Lower end, 0 to 1.</param>
/// <param name="Hi">Upper end, 0 to 1.</param>
public readonly record struct ShareInterval(double Lo, double Hi)
{
    /// <summary>
    /// Seconds of flight that count as one independent look, s. A pilot who is out of tolerance now is most likely still out a second later;
    /// one turn of the cross-check with its correction takes about this long (an assumption, not a published figure).
    /// </summary>
    public const double IndependentAfterS = 15;

    /// <summary>Standard normal quantile that leaves 5 % on either side, for an interval of 90 %.</summary>
    private const double NinetyPercent = 1.6448536269514722;

    /// <summary>The 90 % interval of a share seen over a time.</summary>
    /// <param name="withinShare">Share of the time within tolerance, 0 to 1.</param>
    /// <param name="measuredS">Time measured, seconds; at least one look is counted.</param>
    public static ShareInterval OfTime(double withinShare, double measuredS) =>
        Wilson(withinShare, Math.Max(1, measuredS / IndependentAfterS), NinetyPercent);

    /// <summary>Wilson's score interval.</summary>
    /// <param name="share">Share seen, 0 to 1.</param>
    /// <param name="looks">Number of independent looks, above 0; need not be whole.</param>
    /// <param name="quantile">Standard normal quantile of the wanted confidence, two-sided (1.96 for 95 %).</param>
    /// <exception cref="ArgumentOutOfRangeException">A share outside 0 to 1, or no looks.</exception>
    public static ShareInterval Wilson(double share, double looks, double quantile)
    {
        if (!(share is >= 0 and <= 1)) throw new ArgumentOutOfRangeException(nameof(share), share, "A share is between 0 and 1.");
        if (!(looks > 0)) throw new ArgumentOutOfRangeException(nameof(looks), looks, "There must be at least something seen.");
        var weight = quantile * quantile / looks;
        var centre = (share + (weight / 2)) / (1 + weight);
        var half = Math.Sqrt((share * (1 - share) * weight) + (weight * weight / 4)) / (1 + weight);
        return new ShareInterval(Math.Max(0, centre - half), Math.Min(1, centre + half));
    }
}
