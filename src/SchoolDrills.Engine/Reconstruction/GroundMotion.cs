namespace SchoolDrills.Engine.Reconstruction;

/// <summary>Smoothed motion over the ground: velocity and acceleration toward east and north, and altitude, one value a sample.</summary>
/// <param name="TimeS">Times, seconds.</param>
/// <param name="EastKt">Velocity toward east, knots.</param>
/// <param name="NorthKt">Velocity toward north, knots.</param>
/// <param name="EastKtPerS">Acceleration toward east, knots per second.</param>
/// <param name="NorthKtPerS">Acceleration toward north, knots per second.</param>
/// <param name="SigmaKt">One standard deviation of the velocity per axis, knots.</param>
/// <param name="AltitudeFt">Altitude from the best source, feet.</param>
public sealed record GroundMotion(
    double[] TimeS, double[] EastKt, double[] NorthKt, double[] EastKtPerS, double[] NorthKtPerS, double[] SigmaKt, double[] AltitudeFt)
{
    /// <summary>Ground speed at a sample, knots.</summary>
    /// <param name="i">Sample.</param>
    public double GroundSpeedKt(int i) => Math.Sqrt((EastKt[i] * EastKt[i]) + (NorthKt[i] * NorthKt[i]));
}
