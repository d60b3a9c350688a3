namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// How much better a held turn rate or vertical speed explains each moment of a flight than general handling does: logarithms of
/// likelihood ratios, summed so that a stretch costs one subtraction.
/// </summary>
/// <remarks>
/// Deviations from a held rate follow Student's t with three degrees of freedom. They last for some seconds, so each moment counts only
/// the share of its length in <see cref="ReadingModel.CorrelationS"/>. General handling is a hidden Markov model that holds one of a
/// few rates and changes it from time to time; turning and climbing are taken as independent.
/// </remarks>
internal sealed class FlightEvidence(AlignmentGrid grid)
{
    private readonly Dictionary<double, double[]> turns = [];
    private readonly Dictionary<double, double[]> climbs = [];
    private readonly double[] anyTurn = General(grid, grid.TurnRateDegPerS, ReadingModel.GeneralTurnsDegPerS, TurnScaleDegPerS);
    private readonly double[] anyClimb = General(grid, grid.VerticalSpeedFpm, ReadingModel.GeneralClimbsFpm, ClimbScaleFpm);

    private readonly Dictionary<double, HeldRates> heldTurns = [];
    private readonly Dictionary<double, HeldRates> heldClimbs = [];
    private readonly Dictionary<double, HeldRates> turnsAlone = [];

    /// <summary>The turn rates that pilots hold where one is planned, degrees per second.</summary>
    public HeldRates HeldTurns(double rateDegPerS) => Known(heldTurns, rateDegPerS, () => Shares(rateDegPerS, OfTurn));

    /// <summary>One turn rate and no other, degrees per second.</summary>
    public HeldRates TurnAlone(double rateDegPerS) => Known(turnsAlone, rateDegPerS, () => new HeldRates([OfTurn(rateDegPerS)], [1]));

    /// <summary>The vertical speeds that pilots hold where one is planned, feet per minute; level flight drifts.</summary>
    public HeldRates HeldClimbs(double fpm) =>
        Known(
            heldClimbs,
            fpm,
            () =>
                fpm == 0
                    ? new HeldRates(
                        [.. ReadingModel.LevelDrifts.Select(d => OfClimb(d.Fpm))],
                        [.. ReadingModel.LevelDrifts.Select(d => d.Probability)]
                    )
                    : Shares(fpm, OfClimb)
        );

    /// <summary>Running sum of the evidence for a turn rate, degrees per second: that of [i, j) is element j less element i.</summary>
    public double[] OfTurn(double rateDegPerS) => Sum(turns, rateDegPerS, grid.TurnRateDegPerS, TurnScaleDegPerS, anyTurn);

    /// <summary>The same for a vertical speed, feet per minute.</summary>
    public double[] OfClimb(double fpm) => Sum(climbs, fpm, grid.VerticalSpeedFpm, ClimbScaleFpm, anyClimb);

    private static HeldRates Shares(double rate, Func<double, double[]> evidence) =>
        new([.. ReadingModel.Rates.Select(r => evidence(rate * r.Share))], [.. ReadingModel.Rates.Select(r => r.Probability)]);

    private static HeldRates Known(Dictionary<double, HeldRates> known, double rate, Func<HeldRates> make) =>
        known.TryGetValue(rate, out var held) ? held : known[rate] = make();

    /// <summary>A steep turn's rate scatters more: a degree of bank changes it more.</summary>
    private static double TurnScaleDegPerS(double rateDegPerS) =>
        ReadingModel.TurnRateScaleDegPerS * (1 + Math.Pow(rateDegPerS / AlignmentModel.Rate45DegPerS, 2));

    private static double ClimbScaleFpm(double fpm) => ReadingModel.VerticalSpeedScaleFpm;

    private double[] Sum(Dictionary<double, double[]> known, double target, double[] values, Func<double, double> scaleOf, double[] general)
    {
        if (known.TryGetValue(target, out var sum))
            return sum;
        sum = new double[grid.Count + 1];
        var (scale, weight) = (scaleOf(target), Weight(grid));
        var logScale = Math.Log(scale);
        for (var i = 0; i < grid.Count; i++)
        {
            // A gap is evidence neither for nor against.
            var gain =
                grid.OnGround[i] ? ReadingModel.OnGroundLogOdds
                : double.IsFinite(values[i]) ? (weight * (Student3.LogDensity((values[i] - target) / scale) - logScale)) - general[i]
                : 0;
            sum[i + 1] = sum[i] + gain;
        }

        return known[target] = sum;
    }

    /// <summary>What general handling makes of each moment, given those before it: the forward pass of its hidden Markov model.</summary>
    private static double[] General(AlignmentGrid grid, double[] values, double[] states, Func<double, double> scaleOf)
    {
        var weight = Weight(grid);
        var stays = Math.Exp(-grid.StepS / ReadingModel.ManeuverMeanS);
        var changes = (1 - stays) / states.Length;
        var scales = Array.ConvertAll(states, s => scaleOf(s));
        var logScales = Array.ConvertAll(scales, Math.Log);
        var belief = Enumerable.Repeat(1.0 / states.Length, states.Length).ToArray();
        var logLikelihood = new double[grid.Count];
        for (var i = 0; i < grid.Count; i++)
        {
            if (!double.IsFinite(values[i]))
                continue;
            var total = 0.0;
            for (var s = 0; s < states.Length; s++)
            {
                belief[s] =
                    ((stays * belief[s]) + changes)
                    * Math.Exp(weight * (Student3.LogDensity((values[i] - states[s]) / scales[s]) - logScales[s]));
                total += belief[s];
            }

            for (var s = 0; s < states.Length; s++)
                belief[s] /= total;
            logLikelihood[i] = Math.Log(total);
        }

        return logLikelihood;
    }

    private static double Weight(AlignmentGrid grid) => Math.Min(1, grid.StepS / ReadingModel.CorrelationS);
}
