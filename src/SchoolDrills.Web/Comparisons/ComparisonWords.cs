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
            ComparedWith.Last => "The one before",
            ComparedWith.Best => "The best other",
            _ => "School example",
        };

    /// <summary>The attempt it is laid over, with when it was flown and how it went; of the example neither.</summary>
    public static string Other(AttemptComparison comparison, SchoolTime time) =>
        comparison.With switch
        {
            ComparedWith.Example => "the school's example",
            ComparedWith.Best => $"the best of the others{Told(comparison, time)}",
            _ => $"the last attempt before it{Told(comparison, time)}",
        };

    /// <summary>Both shares in tolerance; null where one is not known.</summary>
    public static string? Shares(AttemptComparison comparison, double? share) =>
        comparison is { OtherWithinShare: { } then } && share is { } now
            ? $"{Figures.Share(now)} in tolerance now, {Figures.Share(then)} in the other."
            : null;

    /// <summary>How the other was moved to this entry; null where both began alike.</summary>
    public static string? Moved(EntryShift? shift)
    {
        if (shift is null)
            return null;
        string?[] parts =
        [
            shift.Mirrored ? "left and right exchanged" : null,
            Math.Abs(shift.HeadingDeg) >= 1
                ? $"turned {Figures.Quantity(Math.Abs(shift.HeadingDeg), "deg")} {(shift.HeadingDeg > 0 ? "right" : "left")}"
                : null,
            Math.Abs(shift.AltitudeFt) >= 1
                ? $"{(shift.AltitudeFt > 0 ? "raised" : "lowered")} by {Figures.Altitude(Math.Abs(shift.AltitudeFt))}"
                : null,
            Math.Abs(shift.AirspeedKt) >= 1
                ? $"made {Figures.Quantity(Math.Abs(shift.AirspeedKt), "kt")} {(shift.AirspeedKt > 0 ? "faster" : "slower")}"
                : null,
        ];
        var told = parts.OfType<string>().ToList();
        return told.Count == 0 ? null : $"The other began from another entry and is drawn from this one's: {string.Join(", ", told)}.";
    }

    /// <summary>"4 s late", "on time"; null where not known.</summary>
    public static string Start(double? errorS) =>
        errorS is not { } s ? "–"
        : Math.Abs(s) < 0.5 ? "on time"
        : $"{Figures.Quantity(Math.Abs(s), "s")} {(s > 0 ? "late" : "early")}";

    private static string Told(AttemptComparison comparison, SchoolTime time) =>
        comparison.OtherFlownAtUtc is { } flown ? $", flown {time.DayAndClock(flown)}" : "";
}
