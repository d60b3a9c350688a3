using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Web.Drills;

/// <summary>One line of the drill read by the clock.</summary>
/// <param name="Kind"><c>gate</c>, <c>cue</c>, <c>check</c> or <c>load task</c>.</param>
public sealed record ClockLine(double AtS, string Kind, string Text, Gate? Gate = null, TimedCheck? Check = null, TimedLoadTask? Task = null);

/// <summary>Gates, cues, checks and load tasks of a drill in one order of time.</summary>
public static class ByTheClock
{
    private static readonly string[] Order = ["gate", "cue", "check", "load task"];

    public static IReadOnlyList<ClockLine> Of(DrillTimeline timeline) =>
    [
        .. timeline.Gates.Select(g => new ClockLine(g.AtS, "gate", g.Label, Gate: g))
            .Concat(timeline.Cues.Select(c => new ClockLine(c.AtS, "cue", c.Text)))
            .Concat(timeline.Checks.Select(c => new ClockLine(c.FromS, "check", c.Name, Check: c)))
            .Concat(timeline.LoadTasks.Select(t => new ClockLine(t.AtS, "load task", t.Name, Task: t)))
            .OrderBy(line => line.AtS).ThenBy(line => Array.IndexOf(Order, line.Kind)),
    ];
}
