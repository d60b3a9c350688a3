using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Comparisons;

/// <summary>A comparison in words.</summary>
internal static class ComparisonWords
{
    /// <summary>What an attempt is compared with, as a choice of several.</summary>
    public static string Choice(ComparedWith with) =>
        with switch
        {
            ComparedWith.Last => T["The one before"],
            ComparedWith.Best => T["The best other"],
            _ => T["School example"],
        };

    /// <summary>The attempt it is laid over, with when it was flown and how it went; of the example neither.</summary>
    public static string Other(AttemptComparison comparison, SchoolTime time) =>
        comparison.With switch
        {
            ComparedWith.Example => T["the school's example"],
            ComparedWith.Best => T["the best of the others{0}", Told(comparison, time)],
            _ => T["the last attempt before it{0}", Told(comparison, time)],
        };

    /// <summary>Both shares in tolerance; null where one is not known.</summary>
    public static string? Shares(AttemptComparison comparison, double? share) =>
        comparison is { OtherWithinShare: { } then } && share is { } now
            ? T["{0} in tolerance now, {1} in the other.", Figures.Share(now), Figures.Share(then)].Value
            : null;

    /// <summary>How the other was moved to this entry; null where both began alike.</summary>
    public static string? Moved(EntryShift? shift)
    {
        if (shift is null)
            return null;
        string?[] parts =
        [
            shift.Mirrored ? T["left and right exchanged | in a sentence"].Value : null,
            shift.HeadingDeg >= 1 ? T["turned {0} right", Figures.Quantity(shift.HeadingDeg, "deg")].Value : null,
            shift.HeadingDeg <= -1 ? T["turned {0} left", Figures.Quantity(-shift.HeadingDeg, "deg")].Value : null,
            shift.AltitudeFt >= 1 ? T["raised by {0}", Figures.Altitude(shift.AltitudeFt)].Value : null,
            shift.AltitudeFt <= -1 ? T["lowered by {0}", Figures.Altitude(-shift.AltitudeFt)].Value : null,
            shift.AirspeedKt >= 1 ? T["made {0} faster", Figures.Quantity(shift.AirspeedKt, "kt")].Value : null,
            shift.AirspeedKt <= -1 ? T["made {0} slower", Figures.Quantity(-shift.AirspeedKt, "kt")].Value : null,
        ];
        var told = parts.OfType<string>().ToList();
        return told.Count == 0
            ? null
            : T["The other began from another entry and is drawn from this one's: {0}.", string.Join(", ", told)].Value;
    }

    /// <summary>"4 s late", "on time"; null where not known.</summary>
    public static string Start(double? errorS) =>
        errorS is not { } s ? "–"
        : Math.Abs(s) < 0.5 ? T["on time"]
        : $"{Figures.Quantity(Math.Abs(s), "s")} {(s > 0 ? "late" : "early")}";

    private static string Told(AttemptComparison comparison, SchoolTime time) =>
        comparison.OtherFlownAtUtc is { } flown ? T[", flown {0}", time.DayAndClock(flown)] : "";
}
