using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Schools;

/// <summary>What the chief's page says of the school, in sentences.</summary>
public static class SchoolWords
{
    /// <summary>The page's first sentence: what was flown, what fails most, what waits longest.</summary>
    /// <param name="overview">The school.</param>
    /// <param name="time">The school's days.</param>
    public static string Opening(SchoolOverview overview, SchoolTime time)
    {
        if (overview.Period is not { Attempts.Attempts: > 0 } period)
            return "Nothing was flown in this period." + Waiting(overview, time);
        var flown = Figures.Count(period.Attempts.Attempts, "attempt was", "attempts were") + " flown";
        var notMet = period.Attempts.NotMetShare is { } share ? $", {Figures.Share(share)} of them not met" : "";
        var weakest = period.Segments.FirstOrDefault(s => s.Share.NotMetShare is not null);
        var fails = weakest is null
            ? ""
            : $" Most often not met: {Labels.Of(weakest.Parameter).ToLowerInvariant()} in {Labels.Of(weakest.SegmentKind)} segments"
                + $" ({Figures.Share(weakest.Share.NotMetShare)}).";
        return $"{flown}{notMet}.{fails}{Waiting(overview, time)}";
    }

    /// <summary>What waits, in words: "to grade".</summary>
    /// <param name="work">Work of one sort.</param>
    public static string Of(AgeingWork work) =>
        work.What switch
        {
            "unscored" => "not scored yet",
            "unscorable" => "could not be scored",
            "ungraded" => "to grade",
            "unacknowledged" => "graded, not read by the student",
            "overdue" => "overdue",
            _ => work.What,
        };

    /// <summary>Where one of the waiting leads.</summary>
    /// <param name="work">Work of one sort.</param>
    /// <param name="id">Of the attempt or the assignment.</param>
    public static string Address(AgeingWork work, Guid id) => work.What == "overdue" ? $"/assignments/{id}" : $"/attempts/{id}";

    /// <summary>Agreement of two, or why it is not told.</summary>
    /// <param name="pair">The two.</param>
    public static string Of(AgreementOfTwo pair) =>
        pair is { Kappa: { } kappa, Lo: { } lo, Hi: { } hi }
            ? FormattableString.Invariant($"{kappa:0.00} ({lo:0.00} to {hi:0.00})").Replace('-', '−')
            : pair.Reason ?? "too little data";

    /// <summary>How an instructor's grades moved against the engine's verdicts.</summary>
    /// <param name="pair">The instructor and the engine.</param>
    public static string Drift(AgreementOfTwo pair) =>
        pair.Drift switch
        {
            null => "–",
            { Claimed: true, Change: { } change } => (change > 0 ? "kinder" : "stricter")
                + FormattableString.Invariant($" by {Math.Abs(change):0.0} of a grade than in the half-year before"),
            var drift => drift.Reason ?? "too little data",
        };

    private static string Waiting(SchoolOverview overview, SchoolTime time) =>
        overview.Ageing.Where(w => w is { Count: > 0, OldestOn: not null }).MinBy(w => w.OldestOn) is { } oldest
            ? $" Waiting longest: {oldest.Count} {Of(oldest)}, since {time.Day(oldest.OldestOn!.Value)}."
            : " Nothing is waiting.";
}
