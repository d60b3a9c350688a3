using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Planning;

/// <summary>Wind at a height.</summary>
/// <param name="AltitudeFt">Altitude, feet.</param>
/// <param name="FromDegTrue">Direction it blows from, degrees true.</param>
/// <param name="SpeedKt">Speed, knots.</param>
public sealed record WindLevel(double AltitudeFt, double FromDegTrue, double SpeedKt);

/// <summary>Wind by altitude: its east and north components are interpolated between the given levels and constant beyond them.</summary>
public sealed class WindsAloft
{
    private readonly (double AltitudeFt, double EastKt, double NorthKt)[] levels;

    /// <summary>Takes levels in any order; none is still air, one is the same wind throughout.</summary>
    /// <param name="winds">Wind by height.</param>
    public WindsAloft(IEnumerable<WindLevel> winds)
    {
        levels =
        [
            .. winds
                .OrderBy(w => w.AltitudeFt)
                .Select(w =>
                {
                    var (sin, cos) = Math.SinCos(Units.DegToRad(w.FromDegTrue));
                    return (w.AltitudeFt, -w.SpeedKt * sin, -w.SpeedKt * cos);
                }),
        ];
    }

    /// <summary>Motion of the air, knots toward east and north.</summary>
    /// <param name="altitudeFt">Altitude, feet.</param>
    public (double EastKt, double NorthKt) At(double altitudeFt)
    {
        if (levels.Length == 0)
            return (0, 0);
        var above = Array.FindIndex(levels, l => l.AltitudeFt >= altitudeFt);
        if (above <= 0)
            return Wind(levels[above < 0 ? ^1 : 0]);
        var (low, high) = (levels[above - 1], levels[above]);
        var share = (altitudeFt - low.AltitudeFt) / (high.AltitudeFt - low.AltitudeFt);
        return (low.EastKt + (share * (high.EastKt - low.EastKt)), low.NorthKt + (share * (high.NorthKt - low.NorthKt)));

        static (double, double) Wind((double AltitudeFt, double EastKt, double NorthKt) level) => (level.EastKt, level.NorthKt);
    }

    /// <summary>
    /// The same winds, all turned by one angle and strengthened by one factor, so that the wind at an altitude is another: what a plan is
    /// tried with. Where it is calm there, the other wind blows at all heights.
    /// </summary>
    /// <param name="winds">Wind by height.</param>
    /// <param name="altitudeFt">Altitude of the wind that is set, feet.</param>
    /// <param name="fromDegTrue">Direction it is to blow from there, degrees true.</param>
    /// <param name="speedKt">Its speed there, knots.</param>
    public static IReadOnlyList<WindLevel> With(IReadOnlyList<WindLevel> winds, double altitudeFt, double fromDegTrue, double speedKt)
    {
        var (eastKt, northKt) = new WindsAloft(winds).At(altitudeFt);
        var (nowDeg, nowKt) = FromAndSpeed(eastKt, northKt);
        if (nowKt < 0.5)
            return [new(altitudeFt, Angles.NormalizeDeg(fromDegTrue), speedKt)];
        var (turnDeg, factor) = (fromDegTrue - nowDeg, speedKt / nowKt);
        return
        [
            .. winds.Select(w =>
                w with
                {
                    FromDegTrue = Angles.NormalizeDeg(w.FromDegTrue + turnDeg),
                    SpeedKt = Math.Min(w.SpeedKt * factor, PlanModel.StrongestWindKt),
                }
            ),
        ];
    }

    /// <summary>Wind as it is given: the direction it blows from, degrees true in (0, 360], and its speed, knots.</summary>
    /// <param name="eastKt">Motion of the air toward east, knots.</param>
    /// <param name="northKt">Motion of the air toward north, knots.</param>
    public static (double FromDegTrue, double SpeedKt) FromAndSpeed(double eastKt, double northKt) =>
        (Angles.NormalizeDeg(Units.RadToDeg(Math.Atan2(0 - eastKt, 0 - northKt))), Math.Sqrt((eastKt * eastKt) + (northKt * northKt)));
}
