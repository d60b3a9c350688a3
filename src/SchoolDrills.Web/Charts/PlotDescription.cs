using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Charts;

/// <summary>The plots for those who do not see them.</summary>
internal static class PlotDescription
{
    /// <summary>Findings that are read first and marked by letters on plan and strips.</summary>
    public const int Lettered = 3;

    /// <summary>A, B, C for the findings that are read first; null for the rest.</summary>
    public static string? Letter(int place) => place < Lettered ? ((char)('A' + place)).ToString() : null;

    /// <summary>When the drill's clock read zero; null where no segment was timed against it.</summary>
    public static DateTimeOffset? ClockZero(ScoreReport report) =>
        report.Segments.FirstOrDefault(s => s.StartUtc is not null && s.StartErrorS is not null) is { } timed
            ? timed.StartUtc!.Value.AddSeconds(-timed.NominalStartS - timed.StartErrorS!.Value)
            : report.StartUtc;

    /// <summary>Reading of the drill's clock.</summary>
    public static string Clock(ScoreReport report, DateTimeOffset at) =>
        ClockZero(report) is { } zero ? Figures.Clock((at - zero).TotalSeconds) : "";

    /// <summary>altitude, heading and airspeed.</summary>
    public static string Together(SaturationEpisode episode) =>
        Labels.Listed([.. episode.Parameters.Select(p => Labels.Of(p).ToLowerInvariant())]);

    /// <summary>What the plan view shows, in one sentence.</summary>
    public static string Plan(ScoreReport report)
    {
        var flown = report.Segments.Count(s => s.StartUtc is not null);
        var wind = report.Wind is { FromDegTrue: { } from, SpeedKt: { } speed }
            ? $"wind from {Figures.Heading(from)} true at {Figures.Quantity(speed, "kt")}"
            : "wind not known";
        return report.Found
            ? $"Plan view: flown path of {flown} of {Figures.Count(report.Segments.Count, "segment", "segments")} "
                + $"over the path the drill asks for, {wind}."
            : $"Plan view of the whole flight; the drill was not found in it, {wind}.";
    }

    /// <summary>The flight segment by segment: when, how, and what was outside its tolerance for how long.</summary>
    public static IReadOnlyList<string> Narrative(ScoreReport report) => [.. report.Segments.Select(s => Segment(report, s))];

    private static string Segment(ScoreReport report, SegmentReport segment)
    {
        var what = $"{segment.Name}, {(segment.TurnDeg switch { > 0 => "right ", < 0 => "left ", _ => "" })}{Labels.Of(segment.Kind)}";
        if (segment.StartUtc is not { } start || segment.EndUtc is not { } end)
            return $"{what}: not flown.";
        var sentences = new List<string>
        {
            $"{what}, from {Clock(report, start)} to {Clock(report, end)}{Lateness(segment)}: {Labels.Of(segment.Verdict)}.",
        };
        var measured = segment.Deviations.Where(d => d.OutsideS is not null && d.Verdict != Verdict.NotMeasured).ToList();
        sentences.AddRange(measured.Where(d => d.OutsideS > 0).Select(d => Outside(report, d)));
        var held = measured.Where(d => d.OutsideS == 0).Select(d => Labels.Of(d.Parameter).ToLowerInvariant()).ToList();
        if (held.Count > 0)
            sentences.Add($"In tolerance throughout: {Labels.Listed(held)}.");
        var blind = segment
            .Deviations.Where(d => d.Verdict == Verdict.NotMeasured)
            .Select(d => Labels.Of(d.Parameter).ToLowerInvariant())
            .ToList();
        if (blind.Count > 0)
            sentences.Add($"Not measured: {Labels.Listed(blind)}.");
        sentences.AddRange(
            report
                .Saturation.Where(e => e.StartUtc >= start && e.StartUtc < end)
                .Select(e => $"From {Clock(report, e.StartUtc)} to {Clock(report, e.EndUtc)} several out of tolerance: {Together(e)}.")
        );
        return string.Join(" ", sentences);
    }

    private static string Lateness(SegmentReport segment) =>
        segment.StartErrorS switch
        {
            >= 1 => $", begun {Figures.Quantity(segment.StartErrorS, "s")} late",
            <= -1 => $", begun {Figures.Quantity(-segment.StartErrorS, "s")} early",
            _ => "",
        };

    private static string Outside(ScoreReport report, DeviationReport d)
    {
        var worst = $"at worst {Figures.Offset(d.Worst ?? d.MaxAbs, d.Unit)}{(d.WorstAtUtc is { } at ? $" at {Clock(report, at)}" : "")}";
        var back = d.CorrectionS is { } s ? $", brought back after {Figures.Quantity(s, "s")}" : "";
        return $"{Labels.Of(d.Parameter)} outside for {Figures.Quantity(d.OutsideS, "s")}, {worst}{back}.";
    }
}
