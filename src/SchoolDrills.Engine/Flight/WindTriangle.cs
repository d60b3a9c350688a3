namespace SchoolDrills.Engine.Flight;

/// <summary>
/// Heading and airspeed, wind, and what comes of them over the ground. Directions true, wind named by where it blows from.
/// </summary>
public static class WindTriangle
{
    /// <summary>
    /// Least product of the scatters of the tips along and across their line, over the square of their sum: that of three headings spread
    /// over 20°, where a knot of error in a leg makes some 60 of wind.
    /// </summary>
    private const double LeastScatter = 2.5e-3;

    /// <summary>What a course needs.</summary>
    /// <param name="CorrectionDeg">Wind correction angle, degrees, right positive.</param>
    /// <param name="HeadingDeg">Heading, degrees, (0, 360].</param>
    /// <param name="GroundSpeedKt">Ground speed, knots.</param>
    public sealed record Course(double CorrectionDeg, double HeadingDeg, double GroundSpeedKt);

    /// <summary>A wind and the airspeed found with it.</summary>
    /// <param name="FromDeg">Direction the wind blows from, degrees, (0, 360].</param>
    /// <param name="SpeedKt">Wind speed, knots.</param>
    /// <param name="TrueAirspeedKt">True airspeed, knots.</param>
    /// <param name="ResidualKt">Root mean square residual of the legs, knots; 0 for three.</param>
    public sealed record Solution(double FromDeg, double SpeedKt, double TrueAirspeedKt, double ResidualKt);

    /// <summary>
    /// Heading that holds a course: WCA = asin(W sin(θw − TC)/TAS). Null where none does, because the wind across is stronger than the
    /// aeroplane or the wind against carries it backwards.
    /// </summary>
    /// <param name="courseDeg">Course to hold, degrees true.</param>
    /// <param name="trueAirspeedKt">True airspeed, knots.</param>
    /// <param name="windFromDeg">Wind from, degrees true.</param>
    /// <param name="windKt">Wind speed, knots.</param>
    public static Course? Hold(double courseDeg, double trueAirspeedKt, double windFromDeg, double windKt)
    {
        var angle = Units.DegToRad(windFromDeg - courseDeg);
        var sine = windKt * Math.Sin(angle) / trueAirspeedKt;
        if (!(Math.Abs(sine) <= 1))
            return null;
        var correction = Math.Asin(sine);
        var groundSpeedKt = (trueAirspeedKt * Math.Cos(correction)) - (windKt * Math.Cos(angle));
        return groundSpeedKt <= 0
            ? null
            : new Course(Units.RadToDeg(correction), Angles.NormalizeDeg(courseDeg + Units.RadToDeg(correction)), groundSpeedKt);
    }

    /// <summary>Velocity over the ground, knots toward east and north.</summary>
    /// <param name="headingDeg">Heading, degrees true.</param>
    /// <param name="trueAirspeedKt">True airspeed, knots.</param>
    /// <param name="windFromDeg">Wind from, degrees true.</param>
    /// <param name="windKt">Wind speed, knots.</param>
    public static (double EastKt, double NorthKt) OverGround(double headingDeg, double trueAirspeedKt, double windFromDeg, double windKt)
    {
        var (headingSin, headingCos) = Math.SinCos(Units.DegToRad(headingDeg));
        var (windSin, windCos) = Math.SinCos(Units.DegToRad(windFromDeg));
        return ((trueAirspeedKt * headingSin) - (windKt * windSin), (trueAirspeedKt * headingCos) - (windKt * windCos));
    }

    /// <summary>Wind from velocity over the ground, heading and airspeed.</summary>
    /// <param name="eastKt">Ground velocity toward east, knots.</param>
    /// <param name="northKt">Ground velocity toward north, knots.</param>
    /// <param name="headingDeg">Heading, degrees true.</param>
    /// <param name="trueAirspeedKt">True airspeed, knots.</param>
    public static (double FromDeg, double SpeedKt) Wind(double eastKt, double northKt, double headingDeg, double trueAirspeedKt)
    {
        var (sin, cos) = Math.SinCos(Units.DegToRad(headingDeg));
        return FromVector(eastKt - (trueAirspeedKt * sin), northKt - (trueAirspeedKt * cos));
    }

    /// <summary>
    /// Wind and airspeed from three or more straight legs flown at one airspeed: the centre and radius of the circle through the tips of
    /// the ground velocities. More than three give the circle of least squares of |v − wind|² − TAS². Headings spread over less than 60°
    /// or so
    /// multiply the errors of the legs. Source: D. Gray, Using GPS to accurately establish true airspeed, 1998; least squares by I. Kåsa,
    /// 1976.
    /// </summary>
    /// <param name="legs">Ground speed, knots, and direction over the ground, degrees true, of each leg.</param>
    /// <returns>Null where the legs point too nearly the same way or their tips lie on one line.</returns>
    /// <exception cref="ArgumentException">Fewer than three legs.</exception>
    public static Solution? FromLegs(IReadOnlyList<(double GroundSpeedKt, double CourseDeg)> legs)
    {
        if (legs.Count < 3)
            throw new ArgumentException($"At least three legs are needed, not {legs.Count}.", nameof(legs));
        var tips = legs.Select(leg =>
                (
                    East: leg.GroundSpeedKt * Math.Sin(Units.DegToRad(leg.CourseDeg)),
                    North: leg.GroundSpeedKt * Math.Cos(Units.DegToRad(leg.CourseDeg))
                )
            )
            .ToArray();
        double meanEast = tips.Average(t => t.East),
            meanNorth = tips.Average(t => t.North);

        // About the mean of the tips the circle's equation leaves two unknowns, the centre: two normal equations.
        double ee = 0,
            en = 0,
            nn = 0,
            eSquare = 0,
            nSquare = 0;
        foreach (var (tipEast, tipNorth) in tips)
        {
            double e = tipEast - meanEast,
                n = tipNorth - meanNorth,
                square = (e * e) + (n * n);
            ee += e * e;
            en += e * n;
            nn += n * n;
            eSquare += e * square / 2;
            nSquare += n * square / 2;
        }

        var determinant = (ee * nn) - (en * en);
        if (!(determinant > LeastScatter * (ee + nn) * (ee + nn)))
            return null;
        double east = ((eSquare * nn) - (nSquare * en)) / determinant,
            north = ((nSquare * ee) - (eSquare * en)) / determinant;
        var trueAirspeedKt = Math.Sqrt((east * east) + (north * north) + ((ee + nn) / legs.Count));
        double windEast = meanEast + east,
            windNorth = meanNorth + north;
        var residualKt = Math.Sqrt(tips.Average(t => Math.Pow(Length(t.East - windEast, t.North - windNorth) - trueAirspeedKt, 2)));
        var (fromDeg, speedKt) = FromVector(windEast, windNorth);
        return new Solution(fromDeg, speedKt, trueAirspeedKt, residualKt);
    }

    private static (double FromDeg, double SpeedKt) FromVector(double eastKt, double northKt) =>
        (Angles.NormalizeDeg(Units.RadToDeg(Math.Atan2(-eastKt, -northKt))), Length(eastKt, northKt));

    private static double Length(double eastKt, double northKt) => Math.Sqrt((eastKt * eastKt) + (northKt * northKt));
}
