using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Web.Drills;

/// <summary>One line of the drill read by the clock.</summary>
/// <param name="Kind"><c>gate</c>, <c>cue</c>, <c>check</c> or <c>load task</c>.</param>
public sealed record ScheduleLine(
    double AtS,
    string Kind,
    string Text,
    Gate? Gate = null,
    TimedCheck? Check = null,
    TimedLoadTask? Task = null
);

/// <summary>Gates, cues, checks and load tasks of a drill in one order of time.</summary>
public static class DrillSchedule
{
    private static readonly string[] Order = ["gate", "cue", "check", "load task"];

    public static IReadOnlyList<ScheduleLine> Of(DrillTimeline timeline) =>
        [
            .. timeline
                .Gates.Concat(timeline.Gates.Any(g => g.AtS < 0.5) ? [] : [Start(timeline.Segments[0])])
                .Select(g => new ScheduleLine(g.AtS, "gate", WhatBegins(timeline, g), Gate: g))
                .Concat(timeline.Cues.Select(c => new ScheduleLine(c.AtS, "cue", c.Text)))
                .Concat(timeline.Checks.Select(c => new ScheduleLine(c.FromS, "check", c.Name, Check: c)))
                .Concat(timeline.LoadTasks.Select(t => new ScheduleLine(t.AtS, "load task", t.Name, Task: t)))
                .OrderBy(line => line.AtS)
                .ThenBy(line => Array.IndexOf(Order, line.Kind)),
        ];

    private static Gate Start(TimelineSegment first) => new(0, first.StartHeadingMagDeg, first.StartAltitudeFt, T["start | in a sentence"]);

    /// <summary>
    /// The segment that begins at a gate, or what else is there. Clock, heading and altitude stand in columns of their own, so a
    /// label's repetition of them is left out.
    /// </summary>
    private static string WhatBegins(DrillTimeline timeline, Gate gate)
    {
        if (timeline.Segments.FirstOrDefault(s => Math.Abs(s.StartS - gate.AtS) < 0.5) is { } segment)
            return $"{segment.Index + 1}. {segment.Name}";
        if (gate.AtS >= timeline.DurationS - 0.5)
            return T["end | in a sentence"];
        return gate.Label.Contains("half-way", StringComparison.Ordinal) ? T["half-way"] : gate.Label;
    }
}
