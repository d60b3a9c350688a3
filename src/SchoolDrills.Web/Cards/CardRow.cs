using System.Globalization;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Cards;

/// <summary>A line of a card's timetable.</summary>
/// <param name="Clock">When, on the drill's clock.</param>
/// <param name="Heading">Heading to have then; null beside what has none.</param>
/// <param name="Altitude">Altitude to have then.</param>
/// <param name="Text">What begins, or what is to be done.</param>
/// <param name="Kind"><c>segment</c>, <c>gate</c> within one, <c>check</c> or <c>task</c>.</param>
public sealed record CardRow(string Clock, string? Heading, string? Altitude, string Text, string Kind);

/// <summary>The drill by the clock as a card has it: one line a segment, with the heading and altitude to have as it begins.</summary>
internal static class CardTimetable
{
    /// <param name="timeline">The drill.</param>
    /// <param name="withQuestions">Scripts and answers of load tasks: for those who ask them.</param>
    /// <param name="withGates">Gates within segments too.</param>
    public static IReadOnlyList<CardRow> Of(DrillTimeline timeline, bool withQuestions, bool withGates)
    {
        var segments = timeline.Segments.Select(s =>
            (
                AtS: s.StartS,
                Order: 0,
                Row: new CardRow(Figures.Clock(s.StartS), Heading(s.StartHeadingMagDeg), Feet(s.StartAltitudeFt), Words(s), "segment")
            )
        );
        var gates = timeline
            .Gates.Where(g =>
                withGates && !timeline.Segments.Any(s => Math.Abs(s.StartS - g.AtS) < 0.5) && g.AtS < timeline.DurationS - 0.5
            )
            .Select(g =>
                (g.AtS, Order: 1, Row: new CardRow(Figures.Clock(g.AtS), Heading(g.HeadingMagDeg), Feet(g.AltitudeFt), "", "gate"))
            );
        var checks = timeline.Checks.Select(c =>
            (
                AtS: c.FromS,
                Order: 2,
                Row: new CardRow(
                    Figures.Clock(c.FromS),
                    null,
                    null,
                    T["{0}, by {1}: {2}", c.Name, Figures.Clock(c.ToS), string.Join(", ", c.Items)],
                    "check"
                )
            )
        );
        var tasks = timeline.LoadTasks.Select(t =>
            (t.AtS, Order: 3, Row: new CardRow(Figures.Clock(t.AtS), null, null, Task(t, withQuestions), "task"))
        );
        var last = timeline.Segments[^1];
        return
        [
            .. segments.Concat(gates).Concat(checks).Concat(tasks).OrderBy(r => r.AtS).ThenBy(r => r.Order).Select(r => r.Row),
            new CardRow(
                Figures.Clock(timeline.DurationS),
                Heading(last.EndHeadingMagDeg),
                Feet(last.EndAltitudeFt),
                T["end | in a sentence"],
                "segment"
            ),
        ];
    }

    /// <summary>right 90°, up 500 ft; straight; slow to 75 kt.</summary>
    private static string Words(TimelineSegment s)
    {
        var parts = new List<string>();
        if (s.TurnDeg != 0)
            parts.Add($"{(s.TurnDeg > 0 ? "right" : "left")} {Math.Abs(s.TurnDeg).ToString("0", CultureInfo.InvariantCulture)}°{Rate(s)}");
        var climbFt = s.EndAltitudeFt - s.StartAltitudeFt;
        if (Math.Abs(climbFt) >= 1)
            parts.Add($"{(climbFt > 0 ? "up" : "down")} {Figures.Altitude(Math.Abs(climbFt))}");
        if (s.AirspeedKt != s.StartAirspeedKt)
            parts.Add(T["{0} to {1}", s.AirspeedKt < s.StartAirspeedKt ? T["slow"] : T["speed up"], Figures.Quantity(s.AirspeedKt, "kt")]);
        return parts.Count == 0 ? T["straight and level"] : string.Join(", ", parts);
    }

    /// <summary>A rate that is neither standard nor half of it is said with its turn.</summary>
    private static string Rate(TimelineSegment s) =>
        Math.Round(Math.Abs(s.TurnRateDegPerS), 2) is 3 or 1.5
            ? ""
            : T[" at {0}°/s", Math.Abs(s.TurnRateDegPerS).ToString("0.#", CultureInfo.InvariantCulture)];

    private static string Task(TimedLoadTask task, bool withQuestions)
    {
        if (!withQuestions)
            return T[Questions.Name];
        return task.ExpectedAnswer is { Length: > 0 } answer
            ? T["{0}: “{1}” Answer: {2}", task.Name, task.Script, answer]
            : $"{task.Name}: “{task.Script}”";
    }

    private static string Heading(double headingMagDeg) => Figures.Heading(headingMagDeg);

    private static string Feet(double altitudeFt) => Figures.Whole(altitudeFt);
}
