namespace SchoolDrills.Engine.Flight;

/// <summary>
/// Every conversion factor of the engine, exact by definition: the foot of 0.3048 m, the statute mile of 5,280 ft and the nautical mile of
/// 1,852 m, standard gravity and the mercury of barometers. Source: NIST Special Publication 811, appendix B.
/// </summary>
public static class Units
{
    /// <summary>Metres in a foot.</summary>
    public const double MPerFt = 0.3048;

    /// <summary>Metres in a nautical mile.</summary>
    public const double MPerNm = 1852;

    /// <summary>Metres per second in a knot.</summary>
    public const double MpsPerKt = MPerNm / 3600;

    /// <summary>Feet in a metre.</summary>
    public const double FtPerM = 1 / MPerFt;

    /// <summary>Knots in a metre per second.</summary>
    public const double KtPerMps = 1 / MpsPerKt;

    /// <summary>Knots in a kilometre per hour.</summary>
    public const double KtPerKmh = 1000 / MPerNm;

    /// <summary>Knots in a statute mile per hour.</summary>
    public const double KtPerMph = 5280 * MPerFt / MPerNm;

    /// <summary>Feet per minute in a metre per second.</summary>
    public const double FpmPerMps = 60 / MPerFt;

    /// <summary>Hectopascals in an inch of mercury of conventional density, 13,595.1 kg/m³, under standard gravity.</summary>
    public const double HpaPerInHg = 13_595.1 * StandardGravityMps2 * 0.0254 / 100;

    /// <summary>Standard gravity, m/s².</summary>
    public const double StandardGravityMps2 = 9.80665;

    /// <summary>Knots to metres per second.</summary>
    /// <param name="speedKt">Speed, knots.</param>
    public static double KtToMps(double speedKt) => speedKt * MpsPerKt;

    /// <summary>Knots to feet per minute, as a speed along a slope is turned into a vertical speed.</summary>
    /// <param name="speedKt">Speed, knots.</param>
    public static double KtToFpm(double speedKt) => speedKt * MpsPerKt * FpmPerMps;

    /// <summary>Metres per second to knots.</summary>
    /// <param name="speedMps">Speed, m/s.</param>
    public static double MpsToKt(double speedMps) => speedMps / MpsPerKt;

    /// <summary>Feet to metres.</summary>
    /// <param name="lengthFt">Length, feet.</param>
    public static double FtToM(double lengthFt) => lengthFt * MPerFt;

    /// <summary>Metres to feet.</summary>
    /// <param name="lengthM">Length, metres.</param>
    public static double MToFt(double lengthM) => lengthM / MPerFt;

    /// <summary>Degrees to radians.</summary>
    /// <param name="angleDeg">Angle, degrees.</param>
    public static double DegToRad(double angleDeg) => angleDeg * (Math.PI / 180);

    /// <summary>Radians to degrees.</summary>
    /// <param name="angleRad">Angle, radians.</param>
    public static double RadToDeg(double angleRad) => angleRad * (180 / Math.PI);
}
