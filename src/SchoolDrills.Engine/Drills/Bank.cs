namespace SchoolDrills.Engine.Drills;

/// <summary>The coordinated turn, tan φ = Vω/g.</summary>
internal static class Bank
{
    /// <summary>Bank of a turn, degrees, signed as the rate.</summary>
    public static double Deg(double turnRateDegPerS, double trueAirspeedKt) =>
        Math.Atan(trueAirspeedKt * 1852 / 3600 * (turnRateDegPerS * Math.PI / 180) / 9.80665) * 180 / Math.PI;
}
