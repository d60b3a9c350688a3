using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Charts;

/// <summary>The plots for those who do not see them.</summary>
internal static class PlotWords
{
    private static readonly Parameter[] Plotted = [Parameter.Altitude, Parameter.Heading, Parameter.VerticalSpeed, Parameter.TurnRate, Parameter.Airspeed];

    /// <summary>What the plan view shows, in one sentence.</summary>
    public static string Plan(ScoreReport report)
    {
        var flown = report.Segments.Count(s => s.StartUtc is not null);
        var wind = report.Wind is { FromDegTrue: { } from, SpeedKt: { } speed } ? $"wind from {Figures.Heading(from)} true at {Figures.Quantity(speed, "kt")}" : "wind not known";
        return report.Found
            ? $"Plan view: flown path of {flown} of {Figures.Count(report.Segments.Count, "segment", "segments")} over the path the drill asks for, {wind}."
            : $"Plan view of the whole flight; the drill was not found in it, {wind}.";
    }

    /// <summary>One sentence a quantity: where it was outside its band and for how long.</summary>
    public static string Summary(ScoreReport report) =>
        string.Join(" ", Plotted.Select(p => Sentence(report, p)));

    private static string Sentence(ScoreReport report, Parameter parameter)
    {
        var name = TradeWords.Of(parameter);
        var measured = report.Segments
            .SelectMany(s => s.Deviations.Where(d => d.Parameter == parameter && d.OutsideS is not null).Select(d => (Segment: s, Deviation: d))).ToList();
        if (measured.Count == 0) return $"{name}: not measured.";
        var outside = measured.Where(m => m.Deviation.OutsideS > 0).ToList();
        if (outside.Count == 0) return $"{name}: within tolerance throughout.";
        return $"{name}: outside in " + string.Join(", ", outside.Select(m =>
            $"segment {m.Segment.Index + 1} for {Figures.Quantity(m.Deviation.OutsideS, "s")}, at worst {Figures.Offset(m.Deviation.Worst, m.Deviation.Unit)}")) + ".";
    }
}
