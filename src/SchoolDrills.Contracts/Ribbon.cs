using System.Globalization;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Contracts;

/// <summary>The segment ribbon of a report: the same strip in a list, on the debrief and on the progress page.</summary>
public static class Ribbon
{
    /// <summary>One ribbon segment for each segment of the report, in the drill's order.</summary>
    public static IReadOnlyList<RibbonSegment> Of(ScoreReport report) =>
        [
            .. report.Segments.Select(s => new RibbonSegment(
                s.Index,
                s.Name,
                s.Kind,
                s.NominalEndS - s.NominalStartS,
                s.Verdict,
                Worst(s),
                s.TurnDeg
            )),
        ];

    /// <summary>The deviation that ran furthest beyond its tolerance, as "+118 ft"; null where nothing was measured.</summary>
    public static string? Worst(SegmentReport segment)
    {
        if (segment.Status == SegmentStatus.Skipped)
            return "not flown";
        var worst = segment
            .Deviations.Where(d =>
                d.Parameter != Parameter.Timing && d.Verdict != Verdict.NotMeasured && d.Tolerance > 0 && (d.Worst ?? d.MaxAbs) is not null
            )
            .MaxBy(d => Math.Abs((d.Worst ?? d.MaxAbs)!.Value) / d.Tolerance);
        return worst is null ? null : Signed((worst.Worst ?? worst.MaxAbs)!.Value, worst.Unit);
    }

    private static string Signed(double value, string unit)
    {
        var number = Math.Abs(value).ToString(unit == "deg/s" ? "0.0" : "0", CultureInfo.InvariantCulture);
        var sign =
            number.Trim('0', '.').Length == 0 ? ""
            : value < 0 ? "−"
            : "+";
        return unit switch
        {
            "deg" => $"{sign}{number}°",
            "deg/s" => $"{sign}{number}°/s",
            _ => $"{sign}{number} {unit}",
        };
    }
}
