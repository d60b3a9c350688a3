using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Charts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Debrief;

/// <summary>Load tasks, checks and their effect in sentences.</summary>
internal static class WorkloadWords
{
    /// <summary>The sentence the section begins with.</summary>
    public static string Summary(WorkloadReport load)
    {
        var tasks =
            load.Tasks.Count == 0
                ? "No load tasks were given"
                : Figures.Count(load.Tasks.Count, "load task was given", "load tasks were given");
        var trouble = load.Tasks.Count(t => t.Outcome is LoadOutcome.Late or LoadOutcome.Wrong or LoadOutcome.Missed);
        var missed = load.Checks.Count(c => c.Outcome == LoadOutcome.Missed);
        var late = load.Checks.Count(c => c.Outcome == LoadOutcome.Late);
        var checks =
            load.Checks.Count == 0 ? ""
            : missed + late == 0 ? $"; all {Figures.Count(load.Checks.Count, "check", "checks")} done in time"
            : $"; of {Figures.Count(load.Checks.Count, "check", "checks")} {missed} missed and {late} late";
        return $"Load level {load.Level} of 5. {tasks}{(trouble > 0 ? $", {trouble} answered late, wrong or not at all" : "")}{checks}.";
    }

    /// <summary>What the timeline begins with: the load, and what was not judged.</summary>
    public static string Lead(ScoreReport report)
    {
        var sentences = new List<string>();
        if (report.Workload is { } load)
            sentences.Add(Summary(load));
        var paused =
            from pause in report.Paused
            group (pause.ToUtc - pause.FromUtc).TotalSeconds by pause.Why into alike
            select $"{Figures.Quantity(alike.Sum(), "s")} "
                + (alike.Key == PauseReason.Traffic ? "avoiding traffic" : "under the instructor's control");
        if (Labels.Listed([.. paused]) is { Length: > 0 } words)
            sentences.Add($"Not judged: {words}.");
        if (report.StoppedUtc is { } stoppedUtc)
            sentences.Add($"The instructor stopped the drill at {PlotDescription.Clock(report, stoppedUtc)}.");
        return sentences.Count == 0 ? "As noted on board." : string.Join(" ", sentences);
    }

    /// <summary>What a change says: more, less, or nothing certain.</summary>
    public static string Of(LoadChange change)
    {
        var figures =
            $"{Figures.Quantity(change.Loaded, change.Unit)} off under load, {Figures.Quantity(change.Quiet, change.Unit)} in quiet flying";
        return (change.Lo, change.Hi) switch
        {
            (> 0 and var lo, { } hi) => $"{figures}: {Figures.Quantity(lo, change.Unit)} to {Figures.Quantity(hi, change.Unit)} worse.",
            ({ } lo, < 0 and var hi) => $"{figures}: {Figures.Quantity(-hi, change.Unit)} to {Figures.Quantity(-lo, change.Unit)} better.",
            ({ }, { }) => $"{figures}: no clear change.",
            _ => $"{figures}. {change.Reason}",
        };
    }

    /// <summary>An episode of saturation with what came before it and what ended it.</summary>
    public static string Of(EpisodeDetail episode)
    {
        var after = episode.After is { } task ? $" after {task}" : "";
        var first = episode.First is { } parameter ? $"; {Labels.Of(parameter).ToLowerInvariant()} went first" : "";
        var relief = episode switch
        {
            { ReliefUtc: null } => ". No relief was noted",
            { ReliefHelped: true } => $". Relief ({episode.Relief ?? "not named"}) helped",
            _ => $". Relief ({episode.Relief ?? "not named"}) did not help within half a minute",
        };
        return $"Overloaded{after} for {Figures.Quantity(episode.RecoveryS, "s")}{first}{relief}.";
    }
}
