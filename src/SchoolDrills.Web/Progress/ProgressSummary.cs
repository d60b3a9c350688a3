using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Web.Charts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Progress;

/// <summary>A student's progress in one sentence: where he stands, what holds him back, what to fly next.</summary>
internal static class ProgressSummary
{
    /// <summary>More parameters than these are counted.</summary>
    private const int MostNamed = 3;

    /// <param name="groups">Like attempts, those of the newest first; one group at least.</param>
    /// <param name="title">Title of the drill of the newest.</param>
    /// <param name="weak">Weak segments, worst first.</param>
    /// <param name="next">Drills to fly next, the best first.</param>
    /// <param name="student">Name of the student; null where he reads it himself.</param>
    public static string Sentence(
        IReadOnlyList<LikeAttempts> groups,
        string title,
        IReadOnlyList<WeakSegmentSummary> weak,
        IReadOnlyList<NextDrillSuggestion> next,
        string? student = null
    )
    {
        var newest = groups[0];
        var flown = Figures.Count(newest.Attempts, "attempt", "attempts");
        if (!newest.IsEnough)
        {
            return $"Too little data to say where {student ?? "you"} {(student is null ? "stand" : "stands")}: {flown} of {title}, "
                + $"and it takes {ParameterTrend.FewestAttempts}; {Next(next) ?? "next, fly it again"}.";
        }

        var stands = $"The newest of {student ?? "your"}{(student is null ? "" : "’s")} {flown} of {title} is {Stands(newest)}";
        return string.Join("; ", new[] { stands, Trends(newest), HeldBack(weak), Next(next) }.OfType<string>()) + ".";
    }

    /// <summary>at the standard of 90% in heading, below it in vertical speed and too close to tell in the rest</summary>
    private static string Stands(LikeAttempts like)
    {
        var standard = $"the standard of {Figures.Share(like.Parameters[0].StandardShare)}";
        var by = like.Parameters.ToLookup(Standings.Of, p => Labels.Of(p.Parameter).ToLowerInvariant());
        var (at, below, open) = (by[Standing.AtStandard].ToList(), by[Standing.Below].ToList(), by[Standing.TooCloseToTell].ToList());
        List<string> parts = [];
        if (at.Count > 0)
            parts.Add($"at {standard} in {Some(at, like)}");
        if (below.Count > 0)
            parts.Add($"below {(at.Count == 0 ? standard : "it")} in {Some(below, like)}");
        if (open.Count > 0)
            parts.Add(parts.Count == 0 ? $"too close to {standard} to tell" : "too close to tell in the rest");
        return parts.Count == 0 ? "not measured often enough to be told" : Labels.Listed(parts);
    }

    private static string Some(List<string> parameters, LikeAttempts like) =>
        parameters.Count == like.Parameters.Count ? "everything measured"
        : parameters.Count <= MostNamed ? Labels.Listed(parameters)
        : $"{parameters.Count} of {like.Parameters.Count} parameters";

    private static string? Trends(LikeAttempts like)
    {
        var (better, worse) = (Named(like, 1), Named(like, -1));
        List<string> parts = [];
        if (better.Count > 0)
            parts.Add($"{Labels.Listed(better)} {(better.Count == 1 ? "is" : "are")} getting better");
        if (worse.Count > 0)
            parts.Add($"{Labels.Listed(worse)} {(worse.Count == 1 ? "is" : "are")} getting worse");
        return parts.Count == 0 ? null : Labels.Listed(parts);
    }

    private static List<string> Named(LikeAttempts like, int sign) =>
        [
            .. like
                .Parameters.Where(p => Standings.Trend(p) is { } trend && Math.Sign(trend) == sign)
                .Select(p => Labels.Of(p.Parameter).ToLowerInvariant()),
        ];

    private static string? HeldBack(IReadOnlyList<WeakSegmentSummary> weak)
    {
        if (weak.FirstOrDefault(w => w.Reason is null) is not { } worst)
            return weak.Count == 0 ? "no segment was missed" : null;
        var what = $"{Labels.Of(worst.Parameter).ToLowerInvariant()} {Where(worst.SegmentKind)}";
        return worst.Recurring ? $"{what} keeps failing" : $"nothing fails for certain, though {what} was missed most";
    }

    private static string Where(SegmentKind kind) => kind == SegmentKind.LevelStraight ? "on straight legs" : $"in {Labels.Of(kind)}s";

    private static string? Next(IReadOnlyList<NextDrillSuggestion> next) => next.Count == 0 ? null : $"next, fly {next[0].DrillTitle}";
}
