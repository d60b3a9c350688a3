using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Progress;

/// <summary>The share of time in tolerance over like attempts.</summary>
/// <param name="Group">What the attempts have in common.</param>
/// <param name="Parameter">Parameter measured.</param>
/// <param name="Kind">Kind of segment; null where all segments of the drill are joined.</param>
/// <param name="Points">One share an attempt, oldest first.</param>
/// <param name="Trend">Change of the share from attempt to attempt.</param>
public sealed record ParameterTrend(
    AttemptGroup Group,
    Parameter Parameter,
    SegmentKind? Kind,
    IReadOnlyList<SharePoint> Points,
    Trend Trend
)
{
    /// <summary>By parameter: all segments of a drill joined.</summary>
    /// <param name="measured">Measurements of one student, in any order.</param>
    public static IReadOnlyList<ParameterTrend> ByParameter(IEnumerable<SegmentMeasurement> measured) => Of(measured, byKind: false);

    /// <summary>Fewest attempts of which anything is said.</summary>
    public const int FewestAttempts = ProgressModel.FewestAttempts;

    /// <summary>Fewest attempts that show a trend.</summary>
    public const int FewestForTrend = ProgressModel.FewestForTrend;

    /// <summary>By parameter and kind of segment.</summary>
    /// <param name="measured">Measurements of one student, in any order.</param>
    public static IReadOnlyList<ParameterTrend> ByKind(IEnumerable<SegmentMeasurement> measured) => Of(measured, byKind: true);

    private static List<ParameterTrend> Of(IEnumerable<SegmentMeasurement> measured, bool byKind) =>
        [
            .. measured
                .Where(m => m is { WithinShare: not null, DurationS: > 0 })
                .GroupBy(m => (m.Group, m.Parameter, Kind: byKind ? m.Kind : (SegmentKind?)null))
                .OrderBy(g => g.Key.Parameter)
                .ThenBy(g => g.Key.Kind)
                .ThenByDescending(g => g.Max(m => m.FlownAtUtc))
                .Select(g =>
                {
                    var points = g.GroupBy(m => m.AttemptId).Select(a => SharePoint.Of([.. a])).OrderBy(p => p.FlownAtUtc).ToList();
                    return new ParameterTrend(
                        g.Key.Group,
                        g.Key.Parameter,
                        g.Key.Kind,
                        points,
                        Trend.Of(points.ConvertAll(p => p.WithinShare))
                    );
                }),
        ];
}

/// <summary>One attempt's share of time in tolerance.</summary>
/// <param name="AttemptId">Attempt.</param>
/// <param name="FlownAtUtc">When it was flown.</param>
/// <param name="WithinShare">Share, 0 to 1.</param>
/// <param name="Samples">Independent samples in the measured time.</param>
/// <param name="Interval">80 % interval of the share.</param>
public sealed record SharePoint(Guid AttemptId, DateTimeOffset FlownAtUtc, double WithinShare, double Samples, Interval Interval)
{
    /// <summary>The share of one parameter over segments of one attempt.</summary>
    internal static SharePoint Of(IReadOnlyList<SegmentMeasurement> segments)
    {
        // A start is on time or not, however long its segment: each counts one. What is held counts by time.
        var isStart = segments[0].Parameter == Parameter.Timing;
        var weight = isStart ? segments.Count : segments.Sum(s => s.DurationS);
        var share = Math.Clamp(segments.Sum(s => s.WithinShare!.Value * (isStart ? 1 : s.DurationS)) / weight, 0, 1);
        var samples = isStart ? weight : ShareInterval.Samples(weight);
        return new(segments[0].AttemptId, segments[0].FlownAtUtc, share, samples, ShareInterval.OfSamples(share, samples));
    }
}
