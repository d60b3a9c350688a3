using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Charts;

namespace SchoolDrills.Web.Drills;

/// <summary>A drill flown exactly, second by second, as the player's script takes it: readings, places on the drawings, the scan.</summary>
public sealed record FlownDrill(
    double[] TimeS,
    double[] HeadingMagDeg,
    double[] AltitudeFt,
    double[] VerticalSpeedFpm,
    double[] TurnRateDegPerS,
    double[] AirspeedKt,
    int[] SegmentIndex,
    double[] PlanX,
    double[] PlanY,
    double[] ProfileX,
    double[] ProfileY,
    IReadOnlyList<string> Segments,
    IReadOnlyList<FlownDrill.Scan> Scans
)
{
    /// <summary>The scan from a second on, in words.</summary>
    public sealed record Scan(double FromS, string Moment, string Say, Axis Pitch, Axis Bank, Axis Power);

    public sealed record Axis(string Primary, string Supporting);

    internal static FlownDrill Of(DrillTimeline timeline, DrillPicture picture, DrillSketch sketch)
    {
        var read = NominalReadings.Of(timeline);
        double[] Placed(IReadOnlyList<Spot>? spots, Func<Spot, double> of) =>
            spots is null ? new double[read.TimeS.Length] : [.. read.TimeS.Select(t => Math.Round(At(picture.TimeS, spots, of, t), 1))];
        return new FlownDrill(
            read.TimeS,
            Tenths(read.HeadingMagDeg),
            Tenths(read.AltitudeFt),
            read.VerticalSpeedFpm,
            read.TurnRateDegPerS,
            Tenths(read.AirspeedKt),
            read.SegmentIndex,
            Placed(sketch.Path, s => s.X),
            Placed(sketch.Path, s => s.Y),
            Placed(sketch.Profile?.Spots, s => s.X),
            Placed(sketch.Profile?.Spots, s => s.Y),
            [.. timeline.Segments.Select(s => s.Name.Length == 0 ? s.Kind.Words() : s.Name)],
            [
                .. ScanFocus
                    .Along(timeline)
                    .Select(a => new Scan(
                        a.FromS,
                        Words(a.Focus.Moment),
                        a.Focus.Say,
                        Of(a.Focus.Pitch),
                        Of(a.Focus.Bank),
                        Of(a.Focus.Power)
                    )),
            ]
        );
    }

    internal static string Words(ScanMoment moment) =>
        moment switch
        {
            ScanMoment.Entry => T["setting it"],
            ScanMoment.Ending => T["ending it"],
            _ => "established",
        };

    private static Axis Of(ScanAxis axis) => new(axis.Primary.Words(), string.Join(", ", axis.Supporting.Select(i => i.Words())));

    private static double[] Tenths(double[] column) => Array.ConvertAll(column, v => Math.Round(v, 1));

    // The picture has a place every second or two; between them the line is straight.
    private static double At(double[] timeS, IReadOnlyList<Spot> spots, Func<Spot, double> of, double t)
    {
        var i = Array.BinarySearch(timeS, t);
        if (i >= 0)
            return of(spots[i]);
        var after = Math.Clamp(~i, 1, timeS.Length - 1);
        var share = Math.Clamp((t - timeS[after - 1]) / (timeS[after] - timeS[after - 1]), 0, 1);
        return of(spots[after - 1]) + (share * (of(spots[after]) - of(spots[after - 1])));
    }
}
