using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Engine.Progress;

/// <summary>A kind of segment on which a parameter was not met.</summary>
/// <param name="Group">Like segments.</param>
/// <param name="DrillSlugs">Drills in which they were flown.</param>
/// <param name="Attempts">Attempts with a verdict.</param>
/// <param name="NotMetShare">Estimated share not met now, 0 to 1.</param>
/// <param name="Interval">Its 80 % interval.</param>
/// <param name="Recurring">More than three in ten not met with a chance of 95 %, and three attempts or more agree.</param>
/// <param name="LastSeenUtc">The newest attempt in which one was not met; null where none was.</param>
/// <param name="ExampleAttemptId">That attempt.</param>
/// <param name="ExampleSegmentIndex">Place of the segment in it.</param>
/// <param name="Prior">What was expected before the student flew.</param>
/// <param name="Reason">Why nothing is concluded.</param>
public sealed record WeakSegment(
    SegmentGroup Group,
    IReadOnlyList<string> DrillSlugs,
    int Attempts,
    double NotMetShare,
    Interval Interval,
    bool Recurring,
    DateTimeOffset? LastSeenUtc,
    Guid? ExampleAttemptId,
    int? ExampleSegmentIndex,
    SchoolPrior Prior,
    string? Reason
);

/// <summary>Which kinds of segment keep failing.</summary>
/// <remarks>
/// A beta-binomial model: each segment is met or not, with a chance that is the student's own; what is expected of it comes from the
/// school (<see cref="SchoolPrior"/>), so that one bad flight says little and many say all. Old attempts count less and less, back to
/// the school's mean. Segments of one attempt repeat one another and count as fewer. Quantiles of the beta distribution are Math.NET's
/// (Gelman, A. et al., "Bayesian Data Analysis", 3rd ed., CRC 2013, chapter 5, for the model; from memory).
/// </remarks>
public static class WeakSegments
{
    /// <summary>Every group that was flown, worst first; those without one not met have no example.</summary>
    /// <param name="measured">Measurements of one student, in any order.</param>
    /// <param name="others">What the school's other students flew, one entry a student and group.</param>
    /// <param name="asOfUtc">The day for which it is asked.</param>
    public static IReadOnlyList<WeakSegment> Of(
        IEnumerable<SegmentMeasurement> measured,
        IEnumerable<SegmentTally> others,
        DateTimeOffset asOfUtc
    )
    {
        var tallies = others.ToLookup(t => t.Group);
        return
        [
            .. measured
                .Where(m => m.Verdict != Verdict.NotMeasured)
                .GroupBy(SegmentGroup.Of)
                .Select(g => One(g.Key, [.. g], SchoolPrior.Of(tallies[g.Key]), asOfUtc))
                .OrderByDescending(w => w.Recurring)
                .ThenByDescending(w => w.Interval.Lo)
                .ThenByDescending(w => w.NotMetShare),
        ];
    }

    private static WeakSegment One(
        SegmentGroup group,
        IReadOnlyList<SegmentMeasurement> measured,
        SchoolPrior prior,
        DateTimeOffset asOfUtc
    )
    {
        var (samples, notMet, agreeing) = (0.0, 0.0, 0);
        var attempts = measured.GroupBy(m => m.AttemptId).ToList();
        foreach (var attempt in attempts)
        {
            var tally = new SegmentTally(group, 1, attempt.Count(), attempt.Count(m => m.Verdict == Verdict.NotMet));
            var ageDays = Math.Max(0, (asOfUtc - attempt.First().FlownAtUtc).TotalDays);
            var weight = tally.Samples * Math.Pow(0.5, ageDays / ProgressModel.HalfLifeDays);
            samples += weight;
            notMet += weight * tally.NotMet / tally.Segments;
            if (2 * tally.NotMet >= tally.Segments)
                agreeing++;
        }

        var belief = prior.With(notMet, samples);
        var last = measured.Where(m => m.Verdict == Verdict.NotMet).OrderBy(m => m.FlownAtUtc).ThenBy(m => m.SegmentIndex).LastOrDefault();
        return new(
            group,
            [.. measured.Select(m => m.Group.DrillSlug).Distinct().Order(StringComparer.Ordinal)],
            attempts.Count,
            belief.Mean,
            new(belief.InverseCumulativeDistribution(ProgressModel.Tail), belief.InverseCumulativeDistribution(1 - ProgressModel.Tail)),
            Recurring: belief.CumulativeDistribution(ProgressModel.RecurringShare) < 1 - ProgressModel.RecurringProbability
                && agreeing >= ProgressModel.AgreeingAttempts,
            last?.FlownAtUtc,
            last?.AttemptId,
            last?.SegmentIndex,
            prior,
            attempts.Count < ProgressModel.FewestAttempts ? ProgressModel.TooLittle(attempts.Count, ProgressModel.FewestAttempts) : null
        );
    }
}
