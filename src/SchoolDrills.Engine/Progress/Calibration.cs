using MathNet.Numerics.Distributions;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Engine.Progress;

/// <summary>How a student's own verdicts differ from what was measured.</summary>
/// <remarks>
/// A verdict counts 1 for met, ½ for close and 0 for not met. The bias of an attempt is the mean of own less measured over its
/// segments; over attempts, which are independent where segments are not, it has the interval of Student's t distribution
/// ("Student", "The probable error of a mean", Biometrika 6, 1908, 1–25).
/// </remarks>
/// <param name="Group">What the attempts have in common.</param>
/// <param name="Attempts">Attempts with verdicts of both.</param>
/// <param name="BiasShare">Above 0: thinks too well of his flying. Null with too few attempts.</param>
/// <param name="Interval">Its 80 % interval.</param>
/// <param name="Trend">Change of the bias from attempt to attempt.</param>
/// <param name="Reason">Why no bias is given.</param>
public sealed record Calibration(AttemptGroup Group, int Attempts, double? BiasShare, Interval? Interval, Trend Trend, string? Reason)
{
    /// <summary>The calibration of one student, by like attempts.</summary>
    /// <param name="rated">Segments that have both verdicts, in any order.</param>
    public static IReadOnlyList<Calibration> Of(IEnumerable<SelfRating> rated) =>
        [
            .. rated
                .Where(r => r is { Own: not Verdict.NotMeasured, Measured: not Verdict.NotMeasured })
                .GroupBy(r => r.Group)
                .Select(g => One(g.Key, [.. g]))
                .OrderByDescending(c => c.Attempts)
                .ThenBy(c => c.Group.DrillSlug, StringComparer.Ordinal),
        ];

    /// <summary>Scatter of a difference of two verdicts by their coarseness alone: steps of ½, each uniform within.</summary>
    private const double StepVariance = 2 * 0.5 * 0.5 / 12;

    private static Calibration One(AttemptGroup group, IReadOnlyList<SelfRating> rated)
    {
        var biases = rated
            .GroupBy(r => (r.AttemptId, r.FlownAtUtc))
            .OrderBy(a => a.Key.FlownAtUtc)
            .Select(a => a.Average(r => Points(r.Own) - Points(r.Measured)))
            .ToList();
        var trend = Trend.Of(biases);
        if (biases.Count < ProgressModel.FewestAttempts)
        {
            var reason = ProgressModel.TooLittle(biases.Count, ProgressModel.FewestAttempts);
            return new(group, biases.Count, null, null, trend, reason);
        }

        var mean = biases.Average();
        var variance = biases.Sum(b => (b - mean) * (b - mean)) / (biases.Count - 1) / biases.Count;
        // Verdicts that agree throughout agree within their steps, not exactly.
        var error = Math.Sqrt(Math.Max(variance, StepVariance / rated.Count));
        var half = StudentT.InvCDF(0, 1, biases.Count - 1, 1 - ProgressModel.Tail) * error;
        return new(group, biases.Count, mean, new(Math.Max(-1, mean - half), Math.Min(1, mean + half)), trend, null);
    }

    private static double Points(Verdict verdict) =>
        verdict switch
        {
            Verdict.Met => 1,
            Verdict.Close => 0.5,
            _ => 0,
        };
}

/// <summary>One segment as the student saw it and as it was measured.</summary>
/// <param name="AttemptId">Attempt.</param>
/// <param name="Group">What the attempt can be compared with.</param>
/// <param name="FlownAtUtc">When it was flown.</param>
/// <param name="Own">The student's verdict, given before the score was shown.</param>
/// <param name="Measured">The engine's.</param>
public sealed record SelfRating(Guid AttemptId, AttemptGroup Group, DateTimeOffset FlownAtUtc, Verdict Own, Verdict Measured);
