using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Judges measured deviations as examiners do: an exceedance that is corrected promptly and stays below twice the tolerance does not
/// fail a segment, an uncorrected one does; where the measurement itself is too coarse there is no verdict.
/// </summary>
public static class Judge
{
    /// <summary>Verdict on one parameter of one segment with the numbers that made it.</summary>
    /// <param name="deviation">What was measured.</param>
    /// <param name="standard">The rule.</param>
    public static (Verdict Verdict, string Why) OnDeviation(Deviation deviation, ToleranceStandard standard)
    {
        if (deviation.MeasuredS <= 0)
            return (Verdict.NotMeasured, "Nothing to measure it by in this segment.");
        if (deviation.Sigma > JudgementRules.CoarsestShare * deviation.Within)
        {
            return (
                Verdict.NotMeasured,
                $"The recording is good to ±{ParameterFormat.Text(deviation.Sigma, deviation.Parameter)}, too "
                    + $"coarse for a tolerance of ±{ParameterFormat.Text(deviation.Within, deviation.Parameter)}."
            );
        }

        var uncorrected = deviation
            .Exceedances.Where(e =>
                e.DurationS > standard.PromptCorrectionS || Math.Abs(e.Worst) >= JudgementRules.FarTolerances * deviation.Within
            )
            .ToList();
        var share = ParameterFormat.Percent(deviation.WithinShare);
        if (deviation.Exceedances.Count == 0)
            return (Verdict.Met, $"Within ±{ParameterFormat.Text(deviation.Within, deviation.Parameter)} throughout.");
        if (uncorrected.Count == 0)
        {
            return deviation.WithinShare >= standard.CloseShare
                ? (
                    Verdict.Met,
                    $"Within for {share} of the time; every exceedance back within "
                        + $"{standard.PromptCorrectionS:0} s and below twice the tolerance."
                )
                : (Verdict.Close, $"Each exceedance was put right promptly, but together they leave only {share} of the time within.");
        }

        var worst = uncorrected.MaxBy(e => Math.Abs(e.Worst));
        var what =
            $"out by up to {ParameterFormat.Text(Math.Abs(worst.Worst), deviation.Parameter)} for "
            + $"{worst.DurationS:0} s, tolerance "
            + $"±{ParameterFormat.Text(deviation.Within, deviation.Parameter)}; within for {share} of the time";
        return deviation.WithinShare >= standard.RequiredShare && Math.Abs(worst.Worst) < JudgementRules.FarTolerances * deviation.Within
                ? (Verdict.Close, $"Close: {what}.")
            : deviation.WithinShare >= standard.CloseShare && Math.Abs(worst.Worst) < JudgementRules.CloseTolerances * deviation.Within
                ? (Verdict.Close, $"Close: {what}.")
            : (Verdict.NotMet, $"Not met: {what}.");
    }

    /// <summary>
    /// Verdict on one parameter over a segment of a flown drill, with the chance that it is right; none where that is no better than a coin
    /// toss. The measurement is taken to be off by one amount throughout: what puts heading or altitude off lasts longer than a segment.
    /// </summary>
    /// <param name="drill">The drill as flown.</param>
    /// <param name="segment">The segment.</param>
    /// <param name="measured">What was measured in it.</param>
    internal static (Verdict Verdict, string Why, VerdictChances? Chances) OnDeviation(
        FlownDrill drill,
        FlownSegment segment,
        Deviation measured
    )
    {
        var (verdict, why) = OnDeviation(measured, drill.Standard);
        return verdict == Verdict.NotMeasured
            ? (verdict, why, null)
            : Weighed(verdict, why, error => OnDeviation(drill.Without(error, segment, measured), drill.Standard).Verdict, measured.Sigma);
    }

    /// <summary>Verdict on the start of a segment against the clock, with the chance that it is right.</summary>
    /// <param name="errorS">Late positive, seconds.</param>
    /// <param name="withinS">Allowed either side, seconds.</param>
    /// <param name="sigmaS">One standard deviation of the error, seconds.</param>
    internal static (Verdict Verdict, string Why, VerdictChances? Chances) OnTiming(double errorS, double withinS, double sigmaS)
    {
        var (verdict, why) = OnTiming(errorS, withinS);
        return Weighed(verdict, why, error => OnTiming(errorS - error, withinS).Verdict, sigmaS);
    }

    private static (Verdict, string, VerdictChances?) Weighed(Verdict verdict, string why, Func<double, Verdict> verdictIfOff, double sigma)
    {
        var chances = VerdictChances.Of([.. VerdictChances.Errors.Select(z => verdictIfOff(z * sigma))]);
        return chances.Of(verdict) < JudgementRules.LeastChance
            ? (Verdict.NotMeasured, $"Too close to call with this recording: {char.ToLowerInvariant(why[0])}{why[1..]}", chances)
            : (verdict, why, chances);
    }

    /// <summary>Verdict on the start of a segment against the clock.</summary>
    /// <param name="errorS">Late positive, seconds.</param>
    /// <param name="withinS">Allowed either side, seconds.</param>
    public static (Verdict Verdict, string Why) OnTiming(double errorS, double withinS)
    {
        var size = Math.Abs(errorS);
        var what = $"begun {ParameterFormat.Tenths(size)} s {(errorS >= 0 ? "after" : "before")} its time, tolerance ±{withinS:0} s";
        return size <= withinS ? (Verdict.Met, $"Met: {what}.")
            : size <= JudgementRules.CloseTimingTolerances * withinS ? (Verdict.Close, $"Close: {what}.")
            : (Verdict.NotMet, $"Not met: {what}.");
    }

    /// <summary>
    /// Verdict on a segment: the worst of altitude, heading and airspeed decides; rates, bank and timing can lower it to close but
    /// do not fail it, since the published standards set no tolerance for them.
    /// </summary>
    /// <param name="deviations">Chances of each parameter's verdict; null where it has none.</param>
    /// <returns>The likeliest verdict and its chance; not measured where nothing was or no verdict is likely enough.</returns>
    internal static (Verdict Verdict, double? Chance) OnSegment(IEnumerable<(Parameter Parameter, VerdictChances? Chances)> deviations)
    {
        List<VerdictChances> parts =
        [
            .. deviations
                .Where(d => d.Chances is not null)
                .Select(d =>
                    JudgementRules.Decides(d.Parameter)
                        ? d.Chances!.Value
                        : new VerdictChances(1 - d.Chances!.Value.NotMet, d.Chances.Value.NotMet, 0)
                ),
        ];
        if (parts.Count == 0)
            return (Verdict.NotMeasured, null);
        var chances = VerdictChances.Worst(parts);
        var likeliest = ((Verdict[])[Verdict.Met, Verdict.Close, Verdict.NotMet]).MaxBy(chances.Of);
        var chance = chances.Of(likeliest);
        return chance < JudgementRules.LeastChance ? (Verdict.NotMeasured, null) : (likeliest, chance);
    }

    /// <summary>Verdict on the drill: met when no segment is less, close while at most a quarter of its time was not met.</summary>
    /// <param name="segments">Verdict and nominal length of each segment, skipped ones as not met.</param>
    public static (Verdict Verdict, string Why) OnDrill(IReadOnlyList<(Verdict Verdict, double DurationS)> segments)
    {
        var judged = segments.Where(s => s.Verdict != Verdict.NotMeasured).ToList();
        if (judged.Count == 0)
            return (Verdict.NotMeasured, "No segment could be measured.");
        var counts =
            $"{judged.Count(s => s.Verdict == Verdict.Met)} of {segments.Count} segments met, "
            + $"{judged.Count(s => s.Verdict == Verdict.Close)} close, {judged.Count(s => s.Verdict == Verdict.NotMet)} not met";
        var notMetShare = judged.Where(s => s.Verdict == Verdict.NotMet).Sum(s => s.DurationS) / judged.Sum(s => s.DurationS);
        var verdict =
            judged.All(s => s.Verdict == Verdict.Met) ? Verdict.Met
            : notMetShare <= JudgementRules.MostNotMetShare ? Verdict.Close
            : Verdict.NotMet;
        return (verdict, $"{counts}.");
    }
}
