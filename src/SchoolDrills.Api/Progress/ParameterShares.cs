using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Progress;

/// <summary>One measured parameter of one segment of an attempt.</summary>
internal sealed record MeasuredSegment(
    Guid AttemptId,
    string DrillSlug,
    DateTimeOffset FlownAtUtc,
    Parameter Parameter,
    double DurationS,
    double WithinShare
);

/// <summary>Segments put together to one share an attempt, and attempts to a trend.</summary>
internal static class ParameterShares
{
    /// <summary>Attempts below which nothing is said of those to come.</summary>
    private const int FewestForForecast = 5;

    /// <param name="requiredShare">Share the standard asks for.</param>
    public static IReadOnlyList<ParameterProgress> Of(IEnumerable<MeasuredSegment> measured, double requiredShare) =>
        [.. measured.GroupBy(m => m.Parameter).OrderBy(g => g.Key).Select(g => One(g.Key, g, requiredShare))];

    private static ParameterProgress One(Parameter parameter, IEnumerable<MeasuredSegment> measured, double requiredShare)
    {
        var points = measured.GroupBy(m => m.AttemptId).Select(g => Point(parameter, [.. g])).OrderBy(p => p.FlownOn).ToList();
        var trend = Trend.PerAttempt(points.ConvertAll(p => p.WithinShare));
        var reason =
            points[^1].WithinShare >= requiredShare ? "already at standard"
            : points.Count < FewestForForecast ? $"too little data: {points.Count} of {FewestForForecast} attempts"
            : trend <= 0 ? "no gain so far to look ahead from"
            : "a trend alone does not tell when the standard is reached";
        return new ParameterProgress(parameter, ParameterFormat.Unit(parameter), points, requiredShare, trend, reason);
    }

    private static ProgressPoint Point(Parameter parameter, IReadOnlyList<MeasuredSegment> segments)
    {
        // A start is on time or not, however long its segment: each counts one. What is held counts by time.
        var isStart = parameter == Parameter.Timing;
        var weight = isStart ? segments.Count : segments.Sum(s => s.DurationS);
        var share = Math.Clamp(segments.Sum(s => s.WithinShare * (isStart ? 1 : s.DurationS)) / weight, 0, 1);
        var interval = isStart ? ShareInterval.OfSamples(share, weight) : ShareInterval.OfTime(share, weight);
        return new ProgressPoint(segments[0].AttemptId, segments[0].DrillSlug, segments[0].FlownAtUtc, share, interval.Lo, interval.Hi);
    }
}
