using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>Maximum likelihood for the distributions of the engine's models.</summary>
internal static class Likelihood
{
    private static readonly double GoldenShare = (Math.Sqrt(5) - 1) / 2;

    /// <summary>Where a function with one maximum has it, by golden sections.</summary>
    public static double Most(Func<double, double> of, double low, double high)
    {
        for (var i = 0; i < 40; i++)
        {
            double one = high - (GoldenShare * (high - low)),
                other = low + (GoldenShare * (high - low));
            if (of(one) < of(other))
                low = one;
            else
                high = other;
        }

        return (low + high) / 2;
    }

    /// <summary>Scale of Student's t with three degrees of freedom about zero.</summary>
    public static double StudentScale(IReadOnlyList<double> errors, double largest) =>
        Math.Exp(
            Most(
                logScale => errors.Sum(e => Student3.LogDensity(e / Math.Exp(logScale)) - logScale),
                Math.Log(largest / 1000),
                Math.Log(largest)
            )
        );

    /// <summary>Scale of ends that are right beside the entry for one share of them, and beside their own start for the others.</summary>
    public static (double Scale, double FromEntry) Ends(IReadOnlyList<(double FromStart, double FromEntry)> ends, double largest)
    {
        var (scale, share) = (largest / 10, 0.5);
        for (var i = 0; i < 10; i++)
        {
            var known = share;
            scale = Math.Exp(Most(logScale => Log(Math.Exp(logScale), known), Math.Log(largest / 1000), Math.Log(largest)));
            share = Most(s => Log(scale, s), 0.01, 0.99);
        }

        return (scale, share);

        double Log(double scale, double fromEntry) =>
            ends.Sum(e =>
                Math.Log(
                    ((fromEntry * Student3.Relative(e.FromEntry / scale)) + ((1 - fromEntry) * Student3.Relative(e.FromStart / scale)))
                        / scale
                )
            );
    }

    /// <summary>Lengths of straights: by the clock with a scatter, or as they come.</summary>
    public static (double ScatterShare, double UntimedShare, double UntimedScatter) Lengths(
        IReadOnlyList<(double LengthS, double NominalS)> straights
    )
    {
        var (scatter, untimed, wide) = (0.05, 0.1, 0.5);
        for (var i = 0; i < 10; i++)
        {
            scatter = Most(s => Log(s, untimed, wide), 0.005, 0.3);
            untimed = Most(s => Log(scatter, s, wide), 0.001, 0.6);
            wide = Most(s => Log(scatter, untimed, s), 0.1, 1.5);
        }

        return (scatter, untimed, wide);

        double Log(double scatterShare, double share, double scatterOfLog) =>
            straights.Sum(s =>
            {
                var scaleS = Math.Max(ReadingModel.StraightScatterS, scatterShare * s.NominalS);
                var timed = Math.Exp(Student3.LogDensity((s.LengthS - s.NominalS) / scaleS)) / scaleS;
                var z = Math.Log(s.LengthS / s.NominalS) / scatterOfLog;
                return Math.Log(
                    ((1 - share) * timed) + (share * Math.Exp(-z * z / 2) / (Math.Sqrt(2 * Math.PI) * scatterOfLog * s.LengthS))
                );
            });
    }

    /// <summary>
    /// For how long deviations last: the time by which a sum over steps of their scores scatters more than if each were drawn anew.
    /// </summary>
    public static double CorrelationS(IReadOnlyList<double[]> runs, double scale, double stepS)
    {
        // The score of Student's t: what a deviation moves its likelihood by.
        var scores = runs.Select(run => Array.ConvertAll(run, e => e / scale / (1 + (e * e / (3 * scale * scale))))).ToList();
        var none = Mean(0);
        var times = 1.0;
        for (var lag = 1; lag < 60 && Mean(lag) / none is var share && share > 0.05; lag++)
            times += 2 * share;
        return stepS * times;

        double Mean(int lag) =>
            scores.Sum(s => Enumerable.Range(0, Math.Max(0, s.Length - lag)).Sum(i => s[i] * s[i + lag]))
            / Math.Max(1, scores.Sum(s => Math.Max(0, s.Length - lag)));
    }
}
