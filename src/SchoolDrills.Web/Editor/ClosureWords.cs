using System.Globalization;
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
            ? T["where it began"]
            : T[
                "{0} NM from where it began, bearing {1}",
                closure.DistanceNm.ToString("0.0", CultureInfo.InvariantCulture),
                Figures.Heading(closure.BearingMagDeg)
            ];

    private static string Heading(DrillClosure closure) =>
        Math.Abs(closure.TurnedDeg) < 1
            ? T["on the entry heading"]
            : T[
                "{0} {1} of the entry heading",
                Figures.Quantity(Math.Abs(closure.TurnedDeg), "deg"),
                closure.TurnedDeg < 0 ? T["left"] : T["right"]
            ];

    private static string Altitude(DrillClosure closure) =>
        Math.Abs(closure.ClimbedFt) < 1
            ? T["at the entry altitude"]
            : T[
                "{0} {1} the entry altitude",
                Figures.Altitude(Math.Abs(closure.ClimbedFt)),
                closure.ClimbedFt < 0 ? T["below"] : T["above"]
            ];

    private static IEnumerable<string> Speed(DrillClosure closure) =>
        Math.Abs(closure.SpeedChangeKt) < 1
            ? []
            : [$"{Figures.Quantity(Math.Abs(closure.SpeedChangeKt), "kt")} {(closure.SpeedChangeKt < 0 ? "slower" : "faster")}"];
}
