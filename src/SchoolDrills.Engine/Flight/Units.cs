namespace SchoolDrills.Engine.Flight;

/// <summary>Every conversion factor of the engine. Exact by definition (international foot, nautical mile, standard gravity).</summary>
public static class Units
{
    /// <summary>Metres in a foot.</summary>
    public const double MPerFt = 0.3048;

    /// <summary>Metres in a nautical mile.</summary>
    public const double MPerNm = 1852;

    /// <summary>Metres per second in a knot.</summary>
    public const double MpsPerKt = MPerNm / 3600;

    /// <summary>Hectopascals in an inch of mercury.</summary>
    public const double HpaPerInHg = 33.8638866667;

    /// <summary>Standard gravity, m/s².</summary>
    public const double StandardGravityMps2 = 9.80665;

    /// <summary>Knots to metres per second.</summary>
    /// <param name="speedKt">Speed, knots.</param>
    public static double KtToMps(double speedKt) => speedKt * MpsPerKt;

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
