namespace SchoolDrills.Engine.Drills;

internal static class Bank
{
    /// <summary>Bank of a coordinated turn, tan φ = Vω/g, degrees.</summary>
    public static double Deg(double turnRateDegPerS, double trueAirspeedKt) =>
        Math.Atan(trueAirspeedKt * 1852 / 3600 * (turnRateDegPerS * Math.PI / 180) / 9.80665) * 180 / Math.PI;
}
