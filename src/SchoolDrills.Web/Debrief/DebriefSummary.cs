using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Debrief;

/// <summary>The report's outcome in the words a debrief begins with.</summary>
internal static class DebriefSummary
{
    /// <summary>One sentence: how it stands, and by how much.</summary>
    public static string Sentence(ScoreReport report)
    {
        if (!report.Found)
            return "This drill was not found in the recording.";
        var outcome = report.Overall.Verdict switch
        {
            Verdict.Met => "Within the standard",
            Verdict.Close => "Close to the standard",
            Verdict.NotMet => "Outside the standard",
            _ => "The recording cannot tell",
        };
        return report.Overall.WithinShare is { } share
            ? $"{outcome}: all in tolerance for {Figures.Share(share)} of the drill, {Segments(report)}."
            : $"{outcome}: {Segments(report)}.";
    }

    /// <summary>5 of 8 segments met.</summary>
    private static string Segments(ScoreReport report)
    {
        var skipped = report.Segments.Count(s => s.Status == SegmentStatus.Skipped);
        var met = report.Segments.Count(s => s.Verdict == Verdict.Met);
        return $"{met} of {Figures.Count(report.Segments.Count, "segment", "segments")} met"
            + (skipped > 0 ? $", {skipped} not flown" : "");
    }
}
