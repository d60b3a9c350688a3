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
        string tasks =
            load.Tasks.Count == 0
                ? T["No load tasks were given"]
                : Figures.Count(load.Tasks.Count, "load task was given", "load tasks were given");
        var trouble = load.Tasks.Count(t => t.Outcome is LoadOutcome.Late or LoadOutcome.Wrong or LoadOutcome.Missed);
        if (trouble > 0)
            tasks = T["{0}, {1} answered late, wrong or not at all", tasks, trouble];
        if (load.Checks.Count == 0)
            return T["Load level {0} of 5. {1}.", load.Level, tasks];
        var missed = load.Checks.Count(c => c.Outcome == LoadOutcome.Missed);
        var late = load.Checks.Count(c => c.Outcome == LoadOutcome.Late);
        var checks = Figures.Count(load.Checks.Count, "check", "checks");
        return missed + late == 0
            ? T["Load level {0} of 5. {1}; all {2} done in time.", load.Level, tasks, checks]
            : T["Load level {0} of 5. {1}; of {2} {3} missed and {4} late.", load.Level, tasks, checks, missed, late];
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
            let length = Figures.Quantity(alike.Sum(), "s")
            select (
                alike.Key == PauseReason.Traffic ? T["{0} avoiding traffic", length] : T["{0} under the instructor's control", length]
            ).Value;
        if (Labels.Listed([.. paused]) is { Length: > 0 } words)
            sentences.Add(T["Not judged: {0}.", words]);
        if (report.StoppedUtc is { } stoppedUtc)
            sentences.Add(T["The instructor stopped the drill at {0}.", PlotDescription.Clock(report, stoppedUtc)]);
        return sentences.Count == 0 ? T["As noted on board."] : string.Join(" ", sentences);
    }

    /// <summary>What a change says: more, less, or nothing certain.</summary>
    public static string Of(LoadChange change)
    {
        var (loaded, quiet) = (Figures.Quantity(change.Loaded, change.Unit), Figures.Quantity(change.Quiet, change.Unit));
        return (change.Lo, change.Hi) switch
        {
            (> 0 and var lo, { } hi) => T[
                "{0} off under load, {1} in quiet flying: {2} to {3} worse.",
                loaded,
                quiet,
                Figures.Quantity(lo, change.Unit),
                Figures.Quantity(hi, change.Unit)
            ],
            ({ } lo, < 0 and var hi) => T[
                "{0} off under load, {1} in quiet flying: {2} to {3} better.",
                loaded,
                quiet,
                Figures.Quantity(-hi, change.Unit),
                Figures.Quantity(-lo, change.Unit)
            ],
            ({ }, { }) => T["{0} off under load, {1} in quiet flying: no clear change.", loaded, quiet],
            _ => T["{0} off under load, {1} in quiet flying. {2}", loaded, quiet, change.Reason ?? ""],
        };
    }

    /// <summary>An episode of saturation with what came before it and what ended it.</summary>
    public static string Of(EpisodeDetail episode)
    {
        var recovery = Figures.Quantity(episode.RecoveryS, "s");
        string overloaded = episode.After is { } task
            ? T["Overloaded after {0} for {1}", task, recovery]
            : T["Overloaded for {0}", recovery];
        if (episode.First is { } parameter)
            overloaded = T["{0}; {1} went first", overloaded, Labels.Of(parameter).ToLowerInvariant()];
        var relief = episode.Relief ?? T["not named"];
        return episode switch
        {
            { ReliefUtc: null } => T["{0}. No relief was noted.", overloaded],
            { ReliefHelped: true } => T["{0}. Relief ({1}) helped.", overloaded, relief],
            _ => T["{0}. Relief ({1}) did not help within half a minute.", overloaded, relief],
        };
    }
}
