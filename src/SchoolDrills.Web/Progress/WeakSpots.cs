using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Progress;

/// <summary>A kind of segment counted over attempts.</summary>
/// <param name="NotMet">Segments of this kind that were not met.</param>
/// <param name="Measured">Segments of this kind with a verdict.</param>
/// <param name="Last">The newest attempt with one not met, and where in it.</param>
public sealed record WeakSpot(SegmentKind Kind, int NotMet, int Measured, AttemptSummary Last, int SegmentIndex);

/// <summary>A plain count of which kinds of segment keep failing: evidence to look at, no estimate.</summary>
public static class WeakSpots
{
    /// <summary>Once can happen to anyone.</summary>
    private const int LeastNotMet = 2;

    /// <param name="attempts">Scored attempts, in any order.</param>
    public static IReadOnlyList<WeakSpot> Of(IEnumerable<AttemptSummary> attempts) =>
        [
            .. attempts
                .OrderByDescending(a => a.UploadedAtUtc)
                .SelectMany(a => a.Ribbon.Where(s => s.Verdict != Verdict.NotMeasured).Select(s => (Attempt: a, Segment: s)))
                .GroupBy(x => x.Segment.Kind)
                .Select(g => (Kind: g.Key, Measured: g.Count(), NotMet: g.Where(x => x.Segment.Verdict == Verdict.NotMet).ToList()))
                .Where(g => g.NotMet.Count >= LeastNotMet)
                .Select(g => new WeakSpot(g.Kind, g.NotMet.Count, g.Measured, g.NotMet[0].Attempt, g.NotMet[0].Segment.Index))
                .OrderByDescending(w => (double)w.NotMet / w.Measured)
                .ThenByDescending(w => w.NotMet),
        ];
}
