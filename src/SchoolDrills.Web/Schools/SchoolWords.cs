using System.Globalization;
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
            return $"{T["Nothing was flown in this period."]} {Waiting(overview, time)}";
        var were = Figures.Count(period.Attempts.Attempts, "attempt was", "attempts were");
        string flown = period.Attempts.NotMetShare is { } share
            ? T["{0} flown, {1} of them not met.", were, Figures.Share(share)]
            : T["{0} flown.", were];
        var weakest = period.Segments.FirstOrDefault(s => s.Share.NotMetShare is not null);
        if (weakest is null)
            return $"{flown} {Waiting(overview, time)}";
        var fails = T[
            "Most often not met: {0} in {1} segments ({2}).",
            Labels.Of(weakest.Parameter).ToLowerInvariant(),
            Labels.Of(weakest.SegmentKind),
            Figures.Share(weakest.Share.NotMetShare)
        ];
        return $"{flown} {fails} {Waiting(overview, time)}";
    }

    /// <summary>What the recordings take, and what the school may keep and send.</summary>
    /// <param name="storage">The room for recordings.</param>
    public static string Of(SchoolStorage storage)
    {
        var kept = storage.MostBytes is { } most
            ? T["Recordings take {0} of {1}.", Figures.Bytes(storage.Bytes), Figures.Bytes(most)]
            : T["Recordings take {0}.", Figures.Bytes(storage.Bytes)];
        return storage.MostUploadsAnHour is { } uploads ? $"{kept} {T["At most {0} may be sent an hour.", Figures.Whole(uploads)]}" : kept;
    }

    /// <summary>What waits, in words: "to grade".</summary>
    /// <param name="work">Work of one sort.</param>
    public static string Of(AgeingWork work) =>
        work.What switch
        {
            "unscored" => T["not scored yet"],
            "unscorable" => T["could not be scored"],
            "ungraded" => T["to grade | in a sentence"],
            "unacknowledged" => T["graded, not read by the student"],
            "overdue" => T["overdue | in a sentence"],
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
            ? T["{0} ({1} to {2})", Kappa(kappa), Kappa(lo), Kappa(hi)]
            : pair.Reason ?? T["too little data"];

    /// <summary>How an instructor's grades moved against the engine's verdicts.</summary>
    /// <param name="pair">The instructor and the engine.</param>
    public static string Drift(AgreementOfTwo pair) =>
        pair.Drift switch
        {
            null => "–",
            { Claimed: true, Change: > 0 and var change } => T["kinder by {0} of a grade than in the half-year before", Grade(change)],
            { Claimed: true, Change: { } change } => T["stricter by {0} of a grade than in the half-year before", Grade(-change)],
            var drift => drift.Reason ?? T["too little data"],
        };

    private static string Kappa(double kappa) => kappa.ToString("0.00", CultureInfo.InvariantCulture).Replace('-', '−');

    private static string Grade(double part) => part.ToString("0.0", CultureInfo.InvariantCulture);

    private static string Waiting(SchoolOverview overview, SchoolTime time) =>
        overview.Ageing.Where(w => w is { Count: > 0, OldestOn: not null }).MinBy(w => w.OldestOn) is { } oldest
            ? T["Waiting longest: {0} {1}, since {2}.", oldest.Count, Of(oldest), time.Day(oldest.OldestOn!.Value)]
            : T["Nothing is waiting."];
}
