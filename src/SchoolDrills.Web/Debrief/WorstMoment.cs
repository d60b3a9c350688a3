using SchoolDrills.Contracts;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Debrief;

/// <summary>Where a debrief opens for somebody who comes to see one weak segment.</summary>
internal static class WorstMoment
{
    /// <summary>Address of the debrief with the segment chosen and the cursor where it was worst; segments count from 1 there.</summary>
    public static string Address(WeakSegmentSummary weak) =>
        $"/attempts/{weak.Example.AttemptId}?segment={weak.Example.SegmentIndex + 1}&parameter={KebabCase.Of(weak.Parameter)}";

    /// <summary>When the parameter was farthest from its target in the segment; where that is not known, when the segment began.</summary>
    public static DateTimeOffset? Of(ScoreReport report, int segmentIndex, string? parameter) =>
        report.Segments.FirstOrDefault(s => s.Index == segmentIndex) is { } segment
            ? segment.Deviations.FirstOrDefault(d => KebabCase.Of(d.Parameter) == parameter)?.WorstAtUtc ?? segment.StartUtc
            : null;
}
