using System.Globalization;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Planning;
using SchoolDrills.Web.Drills;
using SchoolDrills.Web.Layout;
using SchoolDrills.Web.Planning;

namespace SchoolDrills.Web.Cards;

/// <summary>What stands on a card: the numbers, leads, the day, and the timetable.</summary>
public sealed class CardContent
{
    /// <summary>The usual cautions, short enough for a card.</summary>
    public static string Foot =>
        T[
            "Training aid only; not for navigation. Simulated instrument flight needs a qualified safety pilot and a lookout: clear the "
                + "area before every turn. Stay above the floor and clear of airspace and cloud. Stop the drill when in doubt. "
                + "The pilot in command decides; local rules and the aircraft’s handbook come first. "
                + "The student handles no screen in flight."
        ];

    private readonly Dictionary<string, CardFit> fits = [];
    private readonly IReadOnlyList<CardRow> withGates,
        without;
    private readonly IReadOnlyList<(string Name, string Text)> aside,
        noted;

    /// <param name="brief">The drill for its entry.</param>
    /// <param name="plan">How it comes out: on the day where it was planned, else in standard air.</param>
    /// <param name="kept">The plan that was kept; null where there is none.</param>
    /// <param name="withQuestions">For those who ask the questions.</param>
    /// <param name="time">Times of the school.</param>
    /// <param name="set">The wind set with the assignment, where nobody planned it yet.</param>
    /// <param name="plane">The aeroplane that was chosen; null where none was.</param>
    public CardContent(
        DrillBrief brief,
        DrillPlan? plan,
        AssignmentPlan? kept,
        bool withQuestions,
        SchoolTime time,
        IReadOnlyList<WindLevel> set,
        string? plane
    )
    {
        withGates = CardTimetable.Of(brief.Timeline, withQuestions, withGates: true);
        without = CardTimetable.Of(brief.Timeline, withQuestions, withGates: false);
        aside = [.. Lines(brief, plan, kept, time, set, plane)];
        noted = [.. aside, .. Notes(brief.Template, withQuestions)];
    }

    /// <summary>The timetable.</summary>
    public IReadOnlyList<CardRow> Rows(bool gates) => gates ? withGates : without;

    /// <summary>Names and what they have; without a name a warning.</summary>
    public IReadOnlyList<(string Name, string Text)> Aside(bool notes) => notes ? noted : aside;

    public CardFit FitOn(Paper paper)
    {
        if (!fits.TryGetValue(paper.Slug, out var fit))
        {
            fits[paper.Slug] = fit = CardFit.Of(paper, this);
        }

        return fit;
    }

    private static IEnumerable<(string Name, string Text)> Lines(
        DrillBrief brief,
        DrillPlan? plan,
        AssignmentPlan? kept,
        SchoolTime time,
        IReadOnlyList<WindLevel> set,
        string? plane
    )
    {
        var segments = brief.Timeline.Segments;
        var rates = segments.Select(s => Math.Abs(s.TurnRateDegPerS)).Where(r => r > 0).Select(r => Math.Round(r, 2)).Distinct().Order();
        if (string.Join(", ", rates.Select(r => r.ToString("0.##", CultureInfo.InvariantCulture) + "°/s")) is { Length: > 0 } turns)
        {
            var banks = plan?.Turns.Select(t => Math.Round(t.BankDeg)).Distinct().Order().Select(b => $"{b:0}°") ?? [];
            yield return (T["Turns"], plan is null ? turns : T["{0}, bank {1}", turns, string.Join(", ", banks)]);
        }

        var climbs = segments.Select(s => Math.Round(Math.Abs(s.VerticalSpeedFpm))).Where(v => v > 0).Distinct().Order().ToList();
        if (climbs.Count > 0)
            yield return (T["Climbs and descents"], string.Join(", ", climbs.Select(v => Figures.Whole(v))) + " fpm");
        var speeds = segments.Select(s => s.AirspeedKt).Prepend(segments[0].StartAirspeedKt).Distinct().ToList();
        if (speeds.Count > 1)
            yield return (T["Airspeeds"], string.Join(", ", speeds.Select(s => s.ToString("0", CultureInfo.InvariantCulture))) + " kt");
        if (plan is not null)
            yield return (T["Leads"], PlanWords.Leads(plan));
        if (brief.Standard is { } standard)
        {
            var bands = standard.Tolerances.Select(t =>
                $"{Labels.Of(t.Parameter).ToLowerInvariant()}{(Labels.Of(t.Phases) is { Length: > 0 } p ? T[" in {0}", p] : "")} "
                + Figures.Band(t.Within, Labels.UnitOf(t.Parameter))
            );
            yield return (T["Within"], string.Join(", ", bands));
        }

        if (plane is not null)
            yield return ("Aeroplane", plane);
        // Without a place there is no declination, and so no drift to state.
        if (kept is null && set.Count > 0)
            yield return ("Wind", PlanWords.Winds(set));
        if (plan is null || kept is null)
            yield break;
        yield return (T["Wind"], PlanWords.Winds(kept.Asked.Winds));
        yield return (
            T["Drift"],
            T[
                "{0} NM{1}, true airspeed {2}",
                Nm(plan.Drift.TotalNm),
                plan.Drift.TotalNm >= 0.05 ? T[" to {0} true", Figures.Heading(plan.Drift.TowardDegTrue)] : "",
                Figures.Quantity(plan.TrueAirspeedKt, "kt")
            ]
        );
        if (kept.Asked.QnhHpa is { } qnh)
        {
            var air = kept.Asked.OatC is { } oatC
                ? T[", {0} °C at the entry", oatC.ToString("0", CultureInfo.InvariantCulture).Replace('-', '−')]
                : "";
            yield return ("QNH", $"{qnh.ToString("0.#", CultureInfo.InvariantCulture)} hPa{air}");
        }

        if (kept.Asked.Start is { } start)
        {
            yield return (
                T["Start"],
                $"{MapGround.Latitude(start.LatDeg)} {MapGround.Longitude(start.LonDeg)}"
                    + (kept.Asked.AreaName is { } area ? $", {area}" : "")
                    + (
                        plan.Tightest is { MarginNm: >= 0 } t
                            ? T[", closest to its edge {0} NM at {1}", Nm(t.MarginNm), Figures.Clock(t.AtS)]
                            : ""
                    )
            );
        }

        if (kept.Asked.FloorFt is { } floor)
        {
            yield return (
                T["Floor"],
                Figures.Altitude(floor) + (kept.Asked.CeilingFt is { } top ? T[", ceiling {0}", Figures.Altitude(top)] : "")
            );
        }
        yield return (T["Planned"], $"{kept.PlannedBy}, {time.DayAndClock(kept.PlannedAtUtc)}");
        foreach (var against in kept.Differences.Concat(plan.Cautions))
            yield return ("", against);
    }

    /// <summary>What the drill is for; for the instructor what to look for.</summary>
    private static IEnumerable<(string Name, string Text)> Notes(DrillTemplate template, bool withQuestions)
    {
        if (template.Trains is { Length: > 0 } trains)
            yield return (T["Trains"], trains);
        if (withQuestions && template.CommonErrors.Count > 0)
            yield return (T["Look for"], string.Join("; ", template.CommonErrors.Select(e => e.TrimEnd('.'))) + ".");
    }

    private static string Nm(double nm) => nm.ToString("0.0", CultureInfo.InvariantCulture);
}
