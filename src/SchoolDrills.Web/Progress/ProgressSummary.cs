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
            var (fewest, ahead) = (ParameterTrend.FewestAttempts, Next(next) ?? T["next, fly it again"]);
            return student is null
                ? T["Too little data to say where you stand: {0} of {1}, and it takes {2}; {3}.", flown, title, fewest, ahead]
                : T["Too little data to say where {0} stands: {1} of {2}, and it takes {3}; {4}.", student, flown, title, fewest, ahead];
        }

        string stands = student is null
            ? T["The newest of your {0} of {1} is {2}", flown, title, Stands(newest)]
            : T["The newest of {0}’s {1} of {2} is {3}", student, flown, title, Stands(newest)];
        return string.Join("; ", new[] { stands, Trends(newest), HeldBack(weak), Next(next) }.OfType<string>()) + ".";
    }

    /// <summary>at the standard of 90% in heading, below it in vertical speed and too close to tell in the rest</summary>
    private static string Stands(LikeAttempts like)
    {
        var standard = Figures.Share(like.Parameters[0].StandardShare);
        var by = like.Parameters.ToLookup(Standings.Of, p => Labels.Of(p.Parameter).ToLowerInvariant());
        var (at, below, open) = (by[Standing.AtStandard].ToList(), by[Standing.Below].ToList(), by[Standing.TooCloseToTell].ToList());
        List<string> parts = [];
        if (at.Count > 0)
            parts.Add(T["at the standard of {0} in {1}", standard, Some(at, like)]);
        if (below.Count > 0)
        {
            var some = Some(below, like);
            parts.Add(at.Count == 0 ? T["below the standard of {0} in {1}", standard, some] : T["below it in {0}", some]);
        }

        if (open.Count > 0)
            parts.Add(parts.Count == 0 ? T["too close to the standard of {0} to tell", standard] : T["too close to tell in the rest"]);
        return parts.Count == 0 ? T["not measured often enough to tell"] : Labels.Listed(parts);
    }

    private static string Some(List<string> parameters, LikeAttempts like) =>
        parameters.Count == like.Parameters.Count ? T["everything measured"]
        : parameters.Count <= MostNamed ? Labels.Listed(parameters)
        : T["{0} of {1} parameters", parameters.Count, like.Parameters.Count];

    private static string? Trends(LikeAttempts like)
    {
        var (better, worse) = (Named(like, 1), Named(like, -1));
        List<string> parts = [];
        if (better.Count > 0)
            parts.Add(better.Count == 1 ? T["{0} is getting better", better[0]] : T["{0} are getting better", Labels.Listed(better)]);
        if (worse.Count > 0)
            parts.Add(worse.Count == 1 ? T["{0} is getting worse", worse[0]] : T["{0} are getting worse", Labels.Listed(worse)]);
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
            return weak.Count == 0 ? T["no segment was missed"].Value : null;
        var what = Where(worst);
        return worst.Recurring ? T["{0} keeps failing", what] : T["nothing clearly keeps failing, though {0} was missed most", what];
    }

    private static string Where(WeakSegmentSummary weak)
    {
        var what = Labels.Of(weak.Parameter).ToLowerInvariant();
        return weak.SegmentKind == SegmentKind.LevelStraight
            ? T["{0} on straight legs", what]
            : T["{0} in {1}s", what, Labels.Of(weak.SegmentKind)];
    }

    private static string? Next(IReadOnlyList<NextDrillSuggestion> next) =>
        next.Count == 0 ? null : T["next, fly {0}", next[0].DrillTitle].Value;
}
