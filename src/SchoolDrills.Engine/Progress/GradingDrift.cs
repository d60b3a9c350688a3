using MathNet.Numerics.Distributions;

namespace SchoolDrills.Engine.Progress;

/// <summary>Whether an instructor's grades moved against the engine's verdicts from one time to the next.</summary>
/// <remarks>
/// Each shared attempt gives a difference: the place of the grade in the scale less that of the word that fits the engine's verdict.
/// What is compared is the mean difference of the two times, with Welch's interval (Welch, B. L., "The generalization of Student's
/// problem when several different population variances are involved", Biometrika 34, 1947, 28–35).
/// </remarks>
/// <param name="Before">Attempts graded in the earlier time.</param>
/// <param name="Now">Attempts graded in the later.</param>
/// <param name="MeanBefore">Mean difference in the earlier time, places of the scale; above 0 kinder than the engine.</param>
/// <param name="MeanNow">Mean difference in the later time.</param>
/// <param name="Change">The later less the earlier; null with too few attempts.</param>
/// <param name="Interval">Its 80 % interval.</param>
/// <param name="Claimed">The interval does not hold zero.</param>
/// <param name="Reason">Why no change is claimed.</param>
public sealed record GradingDrift(
    int Before,
    int Now,
    double? MeanBefore,
    double? MeanNow,
    double? Change,
    Interval? Interval,
    bool Claimed,
    string? Reason
)
{
    /// <summary>Scatter of a difference of two grades by their coarseness alone: whole places, each uniform within.</summary>
    private const double StepVariance = 2.0 / 12;

    /// <summary>The drift between two times.</summary>
    /// <param name="before">Differences of the earlier time, places of the scale.</param>
    /// <param name="now">Differences of the later time.</param>
    public static GradingDrift Of(IReadOnlyList<int> before, IReadOnlyList<int> now)
    {
        var fewest = Math.Min(before.Count, now.Count);
        if (fewest < ProgressModel.FewestShared)
        {
            var reason = ProgressModel.TooLittle(fewest, ProgressModel.FewestShared);
            return new(before.Count, now.Count, null, null, null, null, false, reason);
        }

        var (meanBefore, errorBefore) = MeanOf(before);
        var (meanNow, errorNow) = MeanOf(now);
        var change = meanNow - meanBefore;
        var variance = errorBefore + errorNow;
        var freedom = variance * variance / ((errorBefore * errorBefore / (before.Count - 1)) + (errorNow * errorNow / (now.Count - 1)));
        var half = StudentT.InvCDF(0, 1, freedom, 1 - ProgressModel.Tail) * Math.Sqrt(variance);
        var interval = new Interval(change - half, change + half);
        var claimed = interval is { Lo: > 0 } or { Hi: < 0 };
        return new(before.Count, now.Count, meanBefore, meanNow, change, interval, claimed, claimed ? null : "no clear change");
    }

    /// <summary>Mean and its squared standard error; grades that all differ alike do so within their steps, not exactly.</summary>
    private static (double Mean, double SquaredError) MeanOf(IReadOnlyList<int> differences)
    {
        var mean = differences.Average();
        var variance = differences.Sum(d => (d - mean) * (d - mean)) / (differences.Count - 1);
        return (mean, Math.Max(variance, StepVariance) / differences.Count);
    }
}
