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
        Math.Abs(closure.TurnedDeg) < 1 ? T["on the entry heading"]
        : closure.TurnedDeg < 0 ? T["{0} left of the entry heading", Figures.Quantity(-closure.TurnedDeg, "deg")]
        : T["{0} right of the entry heading", Figures.Quantity(closure.TurnedDeg, "deg")];

    private static string Altitude(DrillClosure closure) =>
        Math.Abs(closure.ClimbedFt) < 1 ? T["at the entry altitude"]
        : closure.ClimbedFt < 0 ? T["{0} below the entry altitude", Figures.Altitude(-closure.ClimbedFt)]
        : T["{0} above the entry altitude", Figures.Altitude(closure.ClimbedFt)];

    private static IEnumerable<string> Speed(DrillClosure closure) =>
        Math.Abs(closure.SpeedChangeKt) < 1 ? []
        : closure.SpeedChangeKt < 0 ? [T["{0} slower", Figures.Quantity(-closure.SpeedChangeKt, "kt")]]
        : [T["{0} faster", Figures.Quantity(closure.SpeedChangeKt, "kt")]];
}
