using System.Globalization;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Editor;

/// <summary>Numbers of a row as its narrow cells show them.</summary>
internal static class CellWords
{
    public static string Turn(double turnDeg) => $"{(turnDeg < 0 ? "L" : "R")} {Number(Math.Abs(turnDeg))}";

    public static string Signed(double value) => (value < 0 ? "−" : "+") + Number(Math.Abs(value));

    public static string Number(double value) => value.ToString("#,0.##", CultureInfo.InvariantCulture);

    /// <summary>0:30; a part of a second stays.</summary>
    public static string Clock(double timeS) => timeS == Math.Floor(timeS) ? Figures.Clock(timeS) : Number(timeS);

    /// <summary>From when to when a row is flown, the first time where it is several.</summary>
    public static string Flown(DraftPreview preview, string path)
    {
        if (preview.Timeline is not { } timeline || !preview.Rows.TryGetValue(path, out var row))
            return "";
        var first = timeline.Segments[row.First];
        return $"{Figures.Clock(first.StartS)}–{Figures.Clock(timeline.Segments[row.Last].EndS)}";
    }

    /// <summary>What ends a segment, first, and what else holds then.</summary>
    public static (string By, string Then) Ending(DraftPreview preview, string path, Segment segment)
    {
        if (preview.Timeline is not { } timeline || !preview.Rows.TryGetValue(path, out var row))
            return ("", "");
        var end = timeline.Segments[segment.Segments.Count > 0 ? row.Last : row.First];
        var (time, heading, altitude) = (
            Figures.Clock(end.EndS),
            Figures.Heading(end.EndHeadingMagDeg),
            Figures.Altitude(end.EndAltitudeFt)
        );
        var speed = end.AirspeedKt == end.StartAirspeedKt ? "" : $", {Figures.Quantity(end.AirspeedKt, "kt")}";
        return segment switch
        {
            { Segments.Count: > 0 } => ("", T["{0}, {1} at {2}", heading, altitude, time]),
            { DurationS: not null } => (time, $"{heading}, {altitude}{speed}"),
            { TurnDeg: not null } => (heading, T["{0}{1} at {2}", altitude, speed, time]),
            _ => (altitude, T["{0}{1} at {2}", heading, speed, time]),
        };
    }
}
