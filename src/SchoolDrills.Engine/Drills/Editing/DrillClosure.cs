using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>Where a drill flown on the clock in still air ends against where it began.</summary>
/// <param name="DistanceNm">From the start to the end, nautical miles.</param>
/// <param name="BearingMagDeg">Magnetic bearing of the end from the start, degrees, (0, 360].</param>
/// <param name="TurnedDeg">End heading against the entry's, degrees, right positive, at most 180.</param>
/// <param name="ClimbedFt">End altitude against the entry's, feet, up positive.</param>
/// <param name="SpeedChangeKt">End airspeed against the entry's, knots.</param>
public sealed record DrillClosure(double DistanceNm, double BearingMagDeg, double TurnedDeg, double ClimbedFt, double SpeedChangeKt)
{
    private const double CloseNm = 0.1;

    /// <summary>True where the drill ends at its start, on its heading, altitude and airspeed, so that it can be flown again.</summary>
    public bool IsClosed => DistanceNm < CloseNm && Math.Abs(TurnedDeg) < 1 && Math.Abs(ClimbedFt) < 1 && Math.Abs(SpeedChangeKt) < 1;

    /// <summary>The closure of a drill.</summary>
    /// <param name="timeline">The drill resolved.</param>
    /// <param name="path">Its path over still air on a magnetic grid.</param>
    public static DrillClosure Of(DrillTimeline timeline, NominalPath path)
    {
        var (first, last) = (timeline.Segments[0], timeline.Segments[^1]);
        var (eastM, northM) = (path.EastM[^1] - path.EastM[0], path.NorthM[^1] - path.NorthM[0]);
        return new(
            double.Hypot(eastM, northM) / Units.MPerNm,
            Angles.NormalizeDeg(Units.RadToDeg(Math.Atan2(eastM, northM))),
            Angles.DifferenceDeg(last.EndHeadingMagDeg, first.StartHeadingMagDeg),
            last.EndAltitudeFt - first.StartAltitudeFt,
            last.AirspeedKt - first.StartAirspeedKt
        );
    }
}
