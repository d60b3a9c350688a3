using MathNet.Numerics.Distributions;

namespace SchoolDrills.Engine.Progress;

/// <summary>How many more attempts the standard is away.</summary>
/// <remarks>
/// Every learning curve of <see cref="LearningCurve"/> is weighed by how well it explains the attempts flown; each says when it comes to
/// the standard, and the quantiles of what they say are the answer and its interval. Nothing is said before a trend is seen.
/// </remarks>
/// <param name="Attempts">Attempts to the standard, the median of all curves; null where no forecast is given.</param>
/// <param name="Interval">Its 80 % interval, attempts.</param>
/// <param name="Reason">Why no forecast is given.</param>
public sealed record Forecast(double? Attempts, Interval? Interval, string? Reason)
{
    /// <summary>The forecast for like attempts.</summary>
    /// <param name="trend">Their shares, oldest first, and whether these change.</param>
    /// <param name="standardShare">Share the standard asks for, above 0 to 1.</param>
    public static Forecast Of(ParameterTrend trend, double standardShare)
    {
        if (trend.Points.Count < ProgressModel.FewestForTrend)
            return Refused(ProgressModel.TooLittle(trend.Points.Count, ProgressModel.FewestForTrend));
        var newest = trend.Points.Skip(trend.Points.Count - ProgressModel.MostForTrend).ToList();
        var answers = LearningCurve.Weighed(newest, standardShare);
        if (Quantile(answers, 0.5) <= 0)
            return Refused("already at standard");
        if (trend.Trend.PerAttempt is not > 0)
            return Refused("no gain so far to look ahead from");
        var interval = new Interval(Math.Max(0, Quantile(answers, ProgressModel.Tail)), Quantile(answers, 1 - ProgressModel.Tail));
        return interval.Hi > ProgressModel.HorizonAttempts
            ? Refused($"the standard may be more than {ProgressModel.HorizonAttempts} attempts away")
            : new(Quantile(answers, 0.5), interval, null);
    }

    private static Forecast Refused(string reason) => new(null, null, reason);

    private static double Quantile(IReadOnlyList<(double Attempts, double Weight)> ordered, double share)
    {
        var sum = 0.0;
        return ordered.First(a => (sum += a.Weight) >= share * 0.999999).Attempts;
    }
}

/// <summary>The share in tolerance of somebody who learns: each attempt closes the same part of the gap to a ceiling.</summary>
/// <remarks>
/// s(n) = c − (c − s₁)·exp(−r(n − 1)). Individuals follow an exponential rather than a power law (Heathcote, A., Brown, S., Mewhort,
/// D. J. K., "The power law repealed", Psychonomic Bulletin and Review 7, 2000, 185–207, from memory). The share measured scatters about
/// it by s(1 − s)(1/m + v): by the m samples of the attempt, and by the form v of the day.
/// </remarks>
internal static class LearningCurve
{
    private static readonly double[] Ceilings = [0.94, 0.97, 1.0];
    private static readonly double[] DayVariances = [0.005, 0.015, 0.05, 0.15];
    private static readonly double[] Starts = [.. Enumerable.Range(1, 18).Select(i => 0.05 * i)];
    private static readonly double[] Rates = [.. Enumerable.Range(0, 22).Select(i => 0.02 * Math.Pow(40, i / 21.0))];

    /// <summary>Attempts to the standard by each curve, in their order, with weights that sum to 1; infinite where never.</summary>
    /// <param name="points">Attempts, oldest first.</param>
    /// <param name="standardShare">Share the standard asks for.</param>
    public static IReadOnlyList<(double Attempts, double Weight)> Weighed(IReadOnlyList<SharePoint> points, double standardShare)
    {
        var curves = (
            from ceiling in Ceilings
            from start in Starts
            from rate in Rates
            select (Attempts: Ahead(ceiling, start, rate, points.Count, standardShare), LogLikelihood: Fit(points, ceiling, start, rate))
        ).ToList();
        var best = curves.Max(c => c.LogLikelihood);
        var sum = curves.Sum(c => Math.Exp(c.LogLikelihood - best));
        return [.. curves.Select(c => (c.Attempts, Math.Exp(c.LogLikelihood - best) / sum)).OrderBy(c => c.Attempts)];
    }

    private static double Ahead(double ceiling, double start, double rate, int flown, double standardShare)
    {
        if (ceiling <= standardShare)
            return double.PositiveInfinity;
        return (Math.Log((ceiling - start) / (ceiling - standardShare)) / rate) - (flown - 1);
    }

    private static double Fit(IReadOnlyList<SharePoint> points, double ceiling, double start, double rate)
    {
        var shares = points.Select((_, i) => ceiling - ((ceiling - start) * Math.Exp(-rate * i))).ToList();
        var byDay = DayVariances.Select(LogLikelihood).ToList();
        var best = byDay.Max();
        return best + Math.Log(byDay.Sum(l => Math.Exp(l - best)));

        double LogLikelihood(double dayVariance)
        {
            var sum = 0.0;
            for (var i = 0; i < points.Count; i++)
            {
                // Near 0 and 1 a share measured in a few samples is coarser than its scatter.
                var coarse = 1 / (4 * points[i].Samples * points[i].Samples);
                var variance = (shares[i] * (1 - shares[i]) * ((1 / points[i].Samples) + dayVariance)) + coarse;
                sum += Normal.PDFLn(shares[i], Math.Sqrt(variance), points[i].WithinShare);
            }

            return sum;
        }
    }
}
