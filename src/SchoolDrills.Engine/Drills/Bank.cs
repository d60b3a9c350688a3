namespace SchoolDrills.Engine.Drills;

/// <summary>The coordinated turn, tan φ = Vω/g.</summary>
internal static class Bank
{
    private const double GravityMps2 = 9.80665;

    /// <summary>Bank of a turn, degrees, signed as the rate.</summary>
    public static double Deg(double turnRateDegPerS, double trueAirspeedKt) =>
        Math.Atan(trueAirspeedKt * 1852 / 3600 * (turnRateDegPerS * Math.PI / 180) / GravityMps2) * 180 / Math.PI;

    /// <summary>Rate of turn of a bank, degrees per second, signed as the bank.</summary>
    public static double TurnRateDegPerS(double bankDeg, double trueAirspeedKt) =>
        GravityMps2 * Math.Tan(bankDeg * Math.PI / 180) / (trueAirspeedKt * 1852 / 3600) * 180 / Math.PI;
}
