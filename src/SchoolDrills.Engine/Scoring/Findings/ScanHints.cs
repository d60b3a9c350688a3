using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Ways of scanning that would explain what was seen. A recording does not show where the eyes were, so each is a suggestion with its
/// evidence: fixation, omission and emphasis are the three errors of the cross-check that instructors teach (common practice).
/// </summary>
internal static class ScanHints
{
    private static readonly Parameter[] Scanned = [Parameter.Altitude, Parameter.Heading, Parameter.Airspeed];

    /// <summary>The hints of a drill, in time.</summary>
    public static IReadOnlyList<ScanHint> Of(FlownDrill drill)
    {
        var lapses = drill
            .Deviations.SelectMany(
                (list, k) =>
                    list.Where(d =>
                            Scanned.Contains(d.Parameter)
                            && d.Sigma <= JudgementRules.CoarsestShare * d.Within
                            && !IsTiming(drill.Timeline.Segments[k], d.Parameter)
                        )
                        .SelectMany(d =>
                            d.Exceedances.Where(e => e.DurationS >= FindingThresholds.LongLapseS).Select(e => new Lapse(k, d, e))
                        )
            )
            .ToList();
        var means = Scanned.ToDictionary(
            p => p,
            p =>
                drill
                    .Deviations.SelectMany(l => l)
                    .Where(d => d.Parameter == p && d.MeasuredS > 0)
                    .Select(d => d.MeanAbs)
                    .DefaultIfEmpty(double.NaN)
                    .Average()
        );
        var favoured = lapses.Select(l => (Lapse: l, Tight: Tightest(drill, l, means))).Where(f => f.Tight is not null).ToList();

        var habits = favoured
            .GroupBy(f => (f.Tight!.Value.Parameter, f.Lapse.Deviation.Parameter))
            .Where(g => g.Select(f => f.Lapse.Index).Distinct().Count() >= FindingThresholds.Habit)
            .ToList();
        var hints = habits
            .Take(1)
            .Select(g =>
                Hint(
                    drill,
                    ScanError.Emphasis,
                    g.Key.Item1,
                    g.Min(f => f.Lapse.Exceedance.StartS),
                    g.Max(f => f.Lapse.Exceedance.EndS),
                    $"In {g.Select(f => f.Lapse.Index).Distinct().Count()} segments {Word(g.Key.Item1)} was "
                        + $"held closely while {Word(g.Key.Item2)} was outside: {Word(g.Key.Item1)} may be "
                        + "given more of the scan than its share."
                )
            )
            .ToList();
        hints.AddRange(
            favoured
                .OrderByDescending(f => f.Lapse.Exceedance.DurationS)
                .Take(FindingThresholds.MostHints)
                .Select(f =>
                    Hint(
                        drill,
                        ScanError.Fixation,
                        f.Tight!.Value.Parameter,
                        f.Lapse.Exceedance.StartS,
                        f.Lapse.Exceedance.EndS,
                        $"{Capital(Word(f.Lapse.Deviation.Parameter))} was outside for "
                            + $"{f.Lapse.Exceedance.DurationS:0} s while {Word(f.Tight.Value.Parameter)} stayed "
                            + $"within {ParameterFormat.Text(f.Tight.Value.MeanAbs, f.Tight.Value.Parameter)} "
                            + "on average: the eyes may have rested on it."
                    )
                )
        );
        hints.AddRange(
            lapses
                .Where(l => l.UncorrectedS >= FindingThresholds.UnreadS)
                .OrderByDescending(l => l.UncorrectedS)
                .Take(FindingThresholds.MostHints)
                .Select(l =>
                    Hint(
                        drill,
                        ScanError.Omission,
                        l.Deviation.Parameter,
                        l.Exceedance.StartS,
                        l.Exceedance.EndS,
                        $"{Capital(Word(l.Deviation.Parameter))} kept diverging for "
                            + $"{l.UncorrectedS:0} s after leaving tolerance, to "
                            + $"{ParameterFormat.Text(Math.Abs(l.Exceedance.Worst), l.Deviation.Parameter)}: it "
                            + "may have dropped out of the scan."
                    )
                )
        );
        return [.. hints.OrderBy(h => h.StartUtc)];
    }

    /// <summary>
    /// Against a target that moves with the clock, a climb begun late stays low throughout: that is timing, not scanning.
    /// </summary>
    private static bool IsTiming(TimelineSegment segment, Parameter parameter) =>
        (parameter == Parameter.Altitude && segment.VerticalSpeedFpm != 0) || (parameter == Parameter.Heading && segment.TurnDeg != 0);

    /// <summary>The parameter held unusually tight during a lapse of another.</summary>
    private static (Parameter Parameter, double MeanAbs)? Tightest(FlownDrill drill, Lapse lapse, Dictionary<Parameter, double> means)
    {
        var segment = drill.Segments[lapse.Index]!;
        (Parameter Parameter, double MeanAbs)? best = null;
        var least = FindingThresholds.TightShare;
        foreach (
            var other in drill
                .Deviations[lapse.Index]
                .Where(d =>
                    Scanned.Contains(d.Parameter)
                    && d.Parameter != lapse.Deviation.Parameter
                    && d.Sigma <= FindingThresholds.TightSigmaShare * d.Within
                )
        )
        {
            double sum = 0;
            var count = 0;
            for (var i = segment.First; i < segment.End; i++)
            {
                if (
                    drill.State.TimeS[i] < lapse.Exceedance.StartS
                    || drill.State.TimeS[i] >= lapse.Exceedance.EndS
                    || segment.Deviation(other.Parameter, i) is not (var deviation and not double.NaN)
                )
                {
                    continue;
                }

                sum += Math.Abs(deviation);
                count++;
            }

            var mean = sum / count;
            if (!(mean / other.Within < least) || !(mean < FindingThresholds.TighterShare * means[other.Parameter]))
                continue;
            least = mean / other.Within;
            best = (other.Parameter, mean);
        }

        return best;
    }

    private static ScanHint Hint(FlownDrill drill, ScanError kind, Parameter parameter, double startS, double endS, string text)
    {
        var epochUtc = drill.State.Track.Source.EpochUtc;
        return new ScanHint(kind, parameter, epochUtc.AddSeconds(startS), epochUtc.AddSeconds(endS), text);
    }

    private static string Word(Parameter parameter) =>
        parameter switch
        {
            Parameter.Altitude => "altitude",
            Parameter.Heading => "heading",
            _ => "airspeed",
        };

    private static string Capital(string word) => char.ToUpperInvariant(word[0]) + word[1..];

    /// <summary>One long time outside.</summary>
    private sealed record Lapse(int Index, Deviation Deviation, Exceedance Exceedance)
    {
        /// <summary>From leaving tolerance to starting back, seconds.</summary>
        public double UncorrectedS => Exceedance.WorstAtS - Exceedance.StartS;
    }
}
