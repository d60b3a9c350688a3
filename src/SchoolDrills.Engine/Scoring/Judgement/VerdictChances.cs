namespace SchoolDrills.Engine.Scoring;

/// <summary>How likely each verdict is, given by how much the measurement may be off. The three add up to one.</summary>
/// <param name="Met">Chance of <see cref="Verdict.Met"/>, 0 to 1.</param>
/// <param name="Close">Chance of <see cref="Verdict.Close"/>, 0 to 1.</param>
/// <param name="NotMet">Chance of <see cref="Verdict.NotMet"/>, 0 to 1.</param>
internal readonly record struct VerdictChances(double Met, double Close, double NotMet)
{
    /// <summary>
    /// The middles of nine parts of equal chance of the normal distribution, in standard deviations: its quantiles at 1/18, 3/18 ... 17/18.
    /// </summary>
    public static IReadOnlyList<double> Errors { get; } = [-1.593, -0.967, -0.589, -0.282, 0, 0.282, 0.589, 0.967, 1.593];

    /// <summary>The chances of verdicts that are equally likely.</summary>
    /// <param name="verdicts">One for each case; none is <see cref="Verdict.NotMeasured"/>.</param>
    public static VerdictChances Of(IReadOnlyCollection<Verdict> verdicts)
    {
        double Share(Verdict verdict) => (double)verdicts.Count(v => v == verdict) / verdicts.Count;
        return new(Share(Verdict.Met), Share(Verdict.Close), Share(Verdict.NotMet));
    }

    /// <summary>The chances of the worst of several verdicts whose measurements err apart from each other.</summary>
    /// <param name="parts">Their chances, at least one.</param>
    public static VerdictChances Worst(IReadOnlyCollection<VerdictChances> parts)
    {
        var met = parts.Aggregate(1.0, (product, p) => product * p.Met);
        var notWorse = parts.Aggregate(1.0, (product, p) => product * (p.Met + p.Close));
        return new(met, notWorse - met, 1 - notWorse);
    }

    /// <summary>The chance of a verdict; 0 for <see cref="Verdict.NotMeasured"/>.</summary>
    /// <param name="verdict">Which.</param>
    public double Of(Verdict verdict) =>
        verdict switch
        {
            Verdict.Met => Met,
            Verdict.Close => Close,
            Verdict.NotMet => NotMet,
            _ => 0,
        };
}
