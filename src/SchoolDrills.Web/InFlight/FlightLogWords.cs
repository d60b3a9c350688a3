using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.InFlight;

/// <summary>What was noted of a flight, and how its clock was set right, in sentences.</summary>
internal static class FlightLogWords
{
    /// <summary>Less than this is nothing that a tap shows, seconds.</summary>
    private const double NoticeableS = 0.5;

    /// <summary>Noted on a tablet by Anahera Pike, 5 marks.</summary>
    public static string Noted(FlightLogView log) =>
        $"Noted on a tablet by {log.NotedBy}, {(log.Events.Count == 0 ? "no marks" : Figures.Count(log.Events.Count, "mark", "marks"))}.";

    /// <summary>Its clock was 40 s ahead and was corrected.</summary>
    public static string Clock(FlightLogView log) =>
        (log.Clock, Off(log.ShiftS)) switch
        {
            (ClockSource.Measured, null) => "Its clock was right.",
            (ClockSource.Measured, { } off) => $"Its clock was {off} and was corrected.",
            (ClockSource.OnArrival, null) => "Its clock was right when the notes arrived.",
            (ClockSource.OnArrival, { } off) => $"Its clock was {off} when the notes arrived and was corrected.",
            (_, var off) => $"Its clock is taken to have been {off ?? "right"}, set by hand; measured: {Off(log.UnshiftedS) ?? "right"}.",
        };

    /// <summary>Start tapped 3 s after the drill's start in the recording; null where there is not both.</summary>
    public static string? Start(FlightLogView log) =>
        log.StartDiffersS switch
        {
            null => null,
            { } s when Math.Abs(s) < NoticeableS => "Start tapped when the drill began in the recording.",
            { } s =>
                $"Start tapped {Figures.Quantity(Math.Abs(s), "s")} {(s > 0 ? "after" : "before")} the drill's start in the recording.",
        };

    private static string? Off(double aheadS) =>
        Math.Abs(aheadS) < NoticeableS ? null : $"{Figures.Quantity(Math.Abs(aheadS), "s")} {(aheadS > 0 ? "ahead" : "behind")}";
}
