using SchoolDrills.Engine.Drills.Editing;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Editor;

/// <summary>Where a drill that does not close ends: "1.0 NM from where it began, bearing 090°, on the entry heading".</summary>
internal static class ClosureWords
{
    private const double HereNm = 0.1;

    public static string Of(DrillClosure closure) =>
        Labels.Listed([Place(closure), Heading(closure), Altitude(closure), .. Speed(closure)]);

    private static string Place(DrillClosure closure) =>
        closure.DistanceNm < HereNm
            ? "where it began"
            : FormattableString.Invariant(
                $"{closure.DistanceNm:0.0} NM from where it began, bearing {Figures.Heading(closure.BearingMagDeg)}"
            );

    private static string Heading(DrillClosure closure) =>
        Math.Abs(closure.TurnedDeg) < 1
            ? "on the entry heading"
            : $"{Figures.Quantity(Math.Abs(closure.TurnedDeg), "deg")} {(closure.TurnedDeg < 0 ? "left" : "right")} of the entry heading";

    private static string Altitude(DrillClosure closure) =>
        Math.Abs(closure.ClimbedFt) < 1
            ? "at the entry altitude"
            : $"{Figures.Altitude(Math.Abs(closure.ClimbedFt))} {(closure.ClimbedFt < 0 ? "below" : "above")} the entry altitude";

    private static IEnumerable<string> Speed(DrillClosure closure) =>
        Math.Abs(closure.SpeedChangeKt) < 1
            ? []
            : [$"{Figures.Quantity(Math.Abs(closure.SpeedChangeKt), "kt")} {(closure.SpeedChangeKt < 0 ? "slower" : "faster")}"];
}
