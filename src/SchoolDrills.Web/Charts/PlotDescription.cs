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
        string wind = report.Wind is { FromDegTrue: { } from, SpeedKt: { } speed }
            ? T["wind from {0} true at {1}", Figures.Heading(from), Figures.Quantity(speed, "kt")]
            : T["wind not known"];
        return report.Found
            ? T[
                "Plan view: flown path of {0} of {1} over the path the drill asks for, {2}.",
                flown,
                Figures.Count(report.Segments.Count, "segment", "segments"),
                wind
            ]
            : T["Plan view of the whole flight; the drill was not found in it, {0}.", wind];
    }

    /// <summary>The flight segment by segment: when, how, and what was outside its tolerance for how long.</summary>
    public static IReadOnlyList<string> Narrative(ScoreReport report) => [.. report.Segments.Select(s => Segment(report, s))];

    private static string Segment(ScoreReport report, SegmentReport segment)
    {
        var kind = Labels.Of(segment.Kind, segment.TurnDeg);
        if (segment.StartUtc is not { } start || segment.EndUtc is not { } end)
            return T["{0}, {1}: not flown.", segment.Name, kind];
        var sentences = new List<string> { Flown(segment, kind, Clock(report, start), Clock(report, end)) };
        var measured = segment.Deviations.Where(d => d.OutsideS is not null && d.Verdict != Verdict.NotMeasured).ToList();
        sentences.AddRange(measured.Where(d => d.OutsideS > 0).Select(d => Outside(report, d)));
        var held = measured.Where(d => d.OutsideS == 0).Select(d => Labels.Of(d.Parameter).ToLowerInvariant()).ToList();
        if (held.Count > 0)
            sentences.Add(T["In tolerance throughout: {0}.", Labels.Listed(held)]);
        var blind = segment
            .Deviations.Where(d => d.Verdict == Verdict.NotMeasured)
            .Select(d => Labels.Of(d.Parameter).ToLowerInvariant())
            .ToList();
        if (blind.Count > 0)
            sentences.Add(T["Not measured: {0}.", Labels.Listed(blind)]);
        sentences.AddRange(
            report
                .Saturation.Where(e => e.StartUtc >= start && e.StartUtc < end)
                .Select(e =>
                    T[
                        "From {0} to {1} several out of tolerance: {2}.",
                        Clock(report, e.StartUtc),
                        Clock(report, e.EndUtc),
                        Together(e)
                    ].Value
                )
        );
        return string.Join(" ", sentences);
    }

    private static string Flown(SegmentReport segment, string kind, string from, string to)
    {
        var verdict = Labels.Of(segment.Verdict);
        return segment.StartErrorS switch
        {
            >= 1 and var lateS => T[
                "{0}, {1}, from {2} to {3}, started {4} late: {5}.",
                segment.Name,
                kind,
                from,
                to,
                Figures.Quantity(lateS, "s"),
                verdict
            ],
            <= -1 and var earlyS => T[
                "{0}, {1}, from {2} to {3}, started {4} early: {5}.",
                segment.Name,
                kind,
                from,
                to,
                Figures.Quantity(-earlyS, "s"),
                verdict
            ],
            _ => T["{0}, {1}, from {2} to {3}: {4}.", segment.Name, kind, from, to, verdict],
        };
    }

    private static string Outside(ScoreReport report, DeviationReport d)
    {
        var (what, outside) = (Labels.Of(d.Parameter), Figures.Quantity(d.OutsideS, "s"));
        var worst = Figures.Offset(d.Worst ?? d.MaxAbs, d.Unit);
        string at = d.WorstAtUtc is { } worstUtc ? T["{0} at {1}", worst, Clock(report, worstUtc)] : worst;
        return d.CorrectionS is { } s
            ? T["{0} outside for {1}, at worst {2}, correcting after {3}.", what, outside, at, Figures.Quantity(s, "s")]
            : T["{0} outside for {1}, at worst {2}.", what, outside, at];
    }
}
