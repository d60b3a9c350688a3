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
            return "The drill was not found in the recording.";
        var outcome = report.Overall.Verdict switch
        {
            Verdict.Met => "Within the standard",
            Verdict.Close => "Close to the standard",
            Verdict.NotMet => "Outside the standard",
            _ => "Not measured",
        };
        if (report.StoppedUtc is { } stoppedUtc)
            outcome = $"Stopped by the instructor at {PlotDescription.Clock(report, stoppedUtc)}";
        var all = report.StoppedUtc is null ? "of the drill" : "of the time until then";
        return report.Overall.WithinShare is { } share
            ? $"{outcome}: all in tolerance for {Figures.Share(share)} {all}, {Segments(report)}."
            : $"{outcome}: {Segments(report)}.";
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
        return string.Join(", ", counts) + (skipped > 0 ? $", {skipped} of them not flown" : "");
    }
}
