using MathNet.Numerics.LinearAlgebra;

namespace SchoolDrills.Engine.Flight;

/// <summary>Heading and airspeed, wind, and what comes of them over the ground. Directions true, wind named by where it blows from.</summary>
public static class WindTriangle
{
    /// <summary>What a course needs.</summary>
    /// <param name="CorrectionDeg">Wind correction angle, degrees, right positive.</param>
    /// <param name="HeadingDeg">Heading, degrees, (0, 360].</param>
    /// <param name="GroundSpeedKt">Ground speed, knots.</param>
    public sealed record Course(double CorrectionDeg, double HeadingDeg, double GroundSpeedKt);

    /// <summary>A wind and the airspeed found with it.</summary>
    /// <param name="FromDeg">Direction the wind blows from, degrees, (0, 360].</param>
    /// <param name="SpeedKt">Wind speed, knots.</param>
    /// <param name="TrueAirspeedKt">True airspeed, knots.</param>
    /// <param name="ResidualKt">Root mean square misfit of the legs, knots; 0 for three.</param>
    public sealed record Solution(double FromDeg, double SpeedKt, double TrueAirspeedKt, double ResidualKt);

    /// <summary>Heading that holds a course: WCA = asin(W sin(θw − TC)/TAS). Null where the wind is too strong for it.</summary>
    /// <param name="courseDeg">Course to hold, degrees true.</param>
    /// <param name="trueAirspeedKt">True airspeed, knots.</param>
    /// <param name="windFromDeg">Wind from, degrees true.</param>
    /// <param name="windKt">Wind speed, knots.</param>
    public static Course? Hold(double courseDeg, double trueAirspeedKt, double windFromDeg, double windKt)
    {
        var angle = Units.DegToRad(windFromDeg - courseDeg);
        var sine = windKt * Math.Sin(angle) / trueAirspeedKt;
        if (Math.Abs(sine) > 1) return null;
        var correction = Math.Asin(sine);
        var groundSpeedKt = (trueAirspeedKt * Math.Cos(correction)) - (windKt * Math.Cos(angle));
        return groundSpeedKt <= 0 ? null : new Course(Units.RadToDeg(correction), Angles.NormalizeDeg(courseDeg + Units.RadToDeg(correction)), groundSpeedKt);
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
    /// Wind and airspeed from three or more straight legs flown at one airspeed: the centre and radius of the circle through the
    /// tips of the ground velocities, by linear least squares for more than three.
    /// </summary>
    /// <param name="legs">Ground speed, knots, and direction over the ground, degrees true, of each leg.</param>
    /// <returns>Null where the legs point too nearly the same way, or on one line, to tell.</returns>
    /// <exception cref="ArgumentException">Fewer than three legs.</exception>
    public static Solution? FromLegs(IReadOnlyList<(double GroundSpeedKt, double CourseDeg)> legs)
    {
        if (legs.Count < 3) throw new ArgumentException("At least three legs are needed.", nameof(legs));
        var east = legs.Select(l => l.GroundSpeedKt * Math.Sin(Units.DegToRad(l.CourseDeg))).ToArray();
        var north = legs.Select(l => l.GroundSpeedKt * Math.Cos(Units.DegToRad(l.CourseDeg))).ToArray();
        // |v|² = 2 w·v + (TAS² − |w|²): linear in w and the bracket.
        var rows = Matrix<double>.Build.Dense(legs.Count, 3, (i, j) => j switch { 0 => 2 * east[i], 1 => 2 * north[i], _ => 1 });
        var right = Vector<double>.Build.Dense(legs.Count, i => (east[i] * east[i]) + (north[i] * north[i]));
        var decomposition = rows.Svd();
        if (decomposition.S[2] < 1e-3 * decomposition.S[1]) return null;
        var solution = decomposition.Solve(right);
        var square = solution[2] + (solution[0] * solution[0]) + (solution[1] * solution[1]);
        if (square <= 0) return null;
        var trueAirspeedKt = Math.Sqrt(square);
        var residualKt = Math.Sqrt(legs.Select((_, i) => Math.Pow(Math.Sqrt(Math.Pow(east[i] - solution[0], 2) + Math.Pow(north[i] - solution[1], 2)) - trueAirspeedKt, 2)).Average());
        var (fromDeg, speedKt) = FromVector(solution[0], solution[1]);
        return new Solution(fromDeg, speedKt, trueAirspeedKt, residualKt);
    }

    private static (double FromDeg, double SpeedKt) FromVector(double eastKt, double northKt) =>
        (Angles.NormalizeDeg(Units.RadToDeg(Math.Atan2(-eastKt, -northKt))), Math.Sqrt((eastKt * eastKt) + (northKt * northKt)));
}
