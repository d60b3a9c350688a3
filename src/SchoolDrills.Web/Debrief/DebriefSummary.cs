using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Charts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Debrief;

/// <summary>The report's outcome in the words a debrief begins with.</summary>
internal static class DebriefSummary
{
    private static readonly Verdict[] InOrder = [Verdict.Met, Verdict.Close, Verdict.NotMet, Verdict.NotMeasured];

    /// <summary>One sentence: how it stands, and by how much.</summary>
    public static string Sentence(ScoreReport report)
    {
        if (!report.Found)
            return T["The drill was not found in the recording."];
        string outcome = report.Overall.Verdict switch
        {
            Verdict.Met => T["Within the standard"],
            Verdict.Close => T["Close to the standard"],
            Verdict.NotMet => T["Outside the standard"],
            _ => T["Not measured | alone"],
        };
        if (report.StoppedUtc is { } stoppedUtc)
            outcome = T["Stopped by the instructor at {0}", PlotDescription.Clock(report, stoppedUtc)];
        return (report.Overall.WithinShare, report.StoppedUtc) switch
        {
            (null, _) => $"{outcome}: {Segments(report)}.",
            ({ } share, null) => T["{0}: all in tolerance for {1} of the drill, {2}.", outcome, Figures.Share(share), Segments(report)],
            ({ } share, _) => T[
                "{0}: all in tolerance for {1} of the time until then, {2}.",
                outcome,
                Figures.Share(share),
                Segments(report)
            ],
        };
    }

    /// <summary>Every segment is in it: 12 met, 1 close, 3 not met, 1 of them not flown.</summary>
    private static string Segments(ScoreReport report)
    {
        var counts =
            from verdict in InOrder
            let count = report.Segments.Count(s => s.Verdict == verdict)
            where count > 0
            select $"{count} {Labels.Of(verdict)}";
        var skipped = report.Segments.Count(s => s.Status == SegmentStatus.Skipped);
        var all = string.Join(", ", counts);
        return skipped > 0 ? T["{0}, {1} of them not flown", all, skipped] : all;
    }
}
