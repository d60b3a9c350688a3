using MathNet.Numerics.Distributions;
using MathNet.Numerics.Statistics;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// The flying under load beside the quiet flying of the same flight. Mean absolute deviations of blocks of ten seconds are compared, since
/// neighbouring seconds repeat one another, with the interval of Welch for two means of unlike scatter.
/// </summary>
/// <remarks>
/// Welch, B. L., "The generalization of 'Student's' problem when several different population variances are involved", Biometrika 34,
/// 1947, 28–35. A task is laid on where the drill has it, not at random: the change is what was seen, not proof of its cause.
/// </remarks>
internal static class LoadChanges
{
    private static readonly Parameter[] Compared = [Parameter.Altitude, Parameter.Heading, Parameter.Airspeed, Parameter.VerticalSpeed];

    public static IReadOnlyList<LoadChange> Of(FlownDrill drill, IReadOnlyList<LoadTaskResult> tasks, IReadOnlyList<CheckResult> checks)
    {
        var epochUtc = drill.State.Track.Source.EpochUtc;
        List<(double FromS, double ToS)> under =
        [
            .. tasks.Select(t => (S(t.GivenUtc), S(GivenTasks.EndUtc(t)) + WorkloadModel.WakeS)),
            // A check takes the eyes off while it is done: the seconds before it is ticked.
            .. checks.Where(c => c.DoneUtc is not null).Select(c => (S(c.DoneUtc!.Value) - WorkloadModel.WakeS, S(c.DoneUtc.Value))),
        ];
        if (under.Count == 0)
            return [];
        var changes =
            from segment in drill.Segments.OfType<FlownSegment>()
            group segment by segment.Segment.Kind into alike
            from parameter in Compared
            let blocks = alike.SelectMany(s => Blocks(drill, s, parameter, under)).ToList()
            let change = Change(alike.Key, parameter, blocks)
            where change is not null
            select change;
        return [.. changes.OrderBy(c => c.Lo is null).ThenBy(c => c.Kind).ThenBy(c => c.Parameter)];

        double S(DateTimeOffset atUtc) => (atUtc - epochUtc).TotalSeconds;
    }

    private static LoadChange? Change(SegmentKind kind, Parameter parameter, List<(bool Loaded, double Mean)> blocks)
    {
        var (quiet, loaded) = (
            blocks.FindAll(b => !b.Loaded).ConvertAll(b => b.Mean),
            blocks.FindAll(b => b.Loaded).ConvertAll(b => b.Mean)
        );
        if (loaded.Count == 0)
            return null;
        var unit = ParameterFormat.Unit(parameter);
        var enough = quiet.Count >= WorkloadModel.FewestQuiet && loaded.Count >= WorkloadModel.FewestLoaded;
        var interval = enough ? Welch(quiet, loaded) : null;
        return new(
            kind,
            parameter,
            unit,
            quiet.Count > 0 ? Math.Round(quiet.Mean(), 1) : null,
            Math.Round(loaded.Mean(), 1),
            interval?.Lo,
            interval?.Hi,
            enough
                ? null
                : $"Too little data: {quiet.Count} of {WorkloadModel.FewestQuiet} quiet and {loaded.Count} of "
                    + $"{WorkloadModel.FewestLoaded} loaded stretches of {WorkloadModel.BlockS:0} s."
        );
    }

    /// <summary>The 80 % interval of the second mean less the first; null where neither scatters.</summary>
    internal static (double Lo, double Hi)? Welch(List<double> quiet, List<double> loaded)
    {
        var (a, b) = (quiet.Variance() / quiet.Count, loaded.Variance() / loaded.Count);
        if (a + b <= 0)
            return null;
        var freedom = (a + b) * (a + b) / ((a * a / (quiet.Count - 1)) + (b * b / (loaded.Count - 1)));
        var half = StudentT.InvCDF(0, 1, freedom, 1 - WorkloadModel.Tail) * Math.Sqrt(a + b);
        var change = loaded.Mean() - quiet.Mean();
        return (Math.Round(change - half, 1), Math.Round(change + half, 1));
    }

    /// <summary>Mean absolute deviation of each full block of a segment; a block is loaded where half of it or more is.</summary>
    private static IEnumerable<(bool Loaded, double Mean)> Blocks(
        FlownDrill drill,
        FlownSegment segment,
        Parameter parameter,
        List<(double FromS, double ToS)> under
    )
    {
        var timeS = drill.State.TimeS;
        for (var fromS = segment.Match.StartS; fromS + WorkloadModel.BlockS <= segment.Match.EndS; fromS += WorkloadModel.BlockS)
        {
            var (first, end) = (SortedTimes.LowerBound(timeS, fromS), SortedTimes.LowerBound(timeS, fromS + WorkloadModel.BlockS));
            var (sum, count, loaded) = (0.0, 0, 0);
            for (var i = Math.Max(first, segment.First); i < Math.Min(end, segment.End); i++)
            {
                var deviation = Math.Abs(segment.Deviation(parameter, i));
                if (!double.IsFinite(deviation))
                    continue;
                sum += deviation;
                count++;
                if (under.Exists(u => timeS[i] >= u.FromS && timeS[i] < u.ToS))
                    loaded++;
            }

            if (count > 0)
                yield return (2 * loaded >= count, sum / count);
        }
    }
}
