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
        T[
            "Noted on a tablet by {0}, {1}.",
            log.NotedBy,
            log.Events.Count == 0 ? T["no marks"] : Figures.Count(log.Events.Count, "mark", "marks")
        ];

    /// <summary>Its clock was 40 s ahead and was corrected.</summary>
    public static string Clock(FlightLogView log) =>
        (log.Clock, Off(log.ShiftS)) switch
        {
            (ClockSource.Measured, null) => T["Its clock was right."],
            (ClockSource.Measured, { } off) => T["Its clock was {0} and was corrected.", off],
            (ClockSource.OnArrival, null) => T["Its clock was right when the notes arrived."],
            (ClockSource.OnArrival, { } off) => T["Its clock was {0} when the notes arrived and was corrected.", off],
            (_, var off) => T[
                "Its clock is taken to have been {0}, set by hand; measured: {1}.",
                off ?? T["right | of a clock"],
                Off(log.UnshiftedS) ?? T["right | of a clock"]
            ],
        };

    /// <summary>Start tapped 3 s after the drill's start in the recording; null where there is not both.</summary>
    public static string? Start(FlightLogView log) =>
        log.StartDiffersS switch
        {
            null => null,
            { } s when Math.Abs(s) < NoticeableS => T["Start tapped when the drill began in the recording."].Value,
            > 0 and var s => T["Start tapped {0} after the drill's start in the recording.", Figures.Quantity(s, "s")],
            { } s => T["Start tapped {0} before the drill's start in the recording.", Figures.Quantity(-s, "s")],
        };

    private static string? Off(double aheadS) =>
        Math.Abs(aheadS) < NoticeableS ? null : $"{Figures.Quantity(Math.Abs(aheadS), "s")} {(aheadS > 0 ? "ahead" : "behind")}";
}
