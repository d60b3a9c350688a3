namespace SchoolDrills.Engine.Reconstruction;

/// <summary>Smoothed motion over the ground: velocity and acceleration toward east and north, and altitude, one value a sample.</summary>
/// <param name="TimeS">Times, seconds.</param>
/// <param name="EastKt">Velocity toward east, knots.</param>
/// <param name="NorthKt">Velocity toward north, knots.</param>
/// <param name="EastKtPerS">Acceleration toward east, knots per second.</param>
/// <param name="NorthKtPerS">Acceleration toward north, knots per second.</param>
/// <param name="NoiseRatio">Noise of the positions as a factor of a good receiver's, at least 1.</param>
/// <param name="AddedSigmaKt">Sigma that the noise adds to the velocity per axis, knots.</param>
/// <param name="AltitudeFt">Altitude from the best source, feet.</param>
/// <param name="TrueOverIndicated">Ratio of true to indicated airspeed in the air of that altitude.</param>
public sealed record GroundMotion(
    double[] TimeS,
    double[] EastKt,
    double[] NorthKt,
    double[] EastKtPerS,
    double[] NorthKtPerS,
    double NoiseRatio,
    double AddedSigmaKt,
    double[] AltitudeFt,
    double[] TrueOverIndicated
)
{
    /// <summary>Ground speed at a sample, knots.</summary>
    /// <param name="i">Sample.</param>
    public double GroundSpeedKt(int i) => Math.Sqrt((EastKt[i] * EastKt[i]) + (NorthKt[i] * NorthKt[i]));

    /// <summary>
    /// Rate of change of the ground track at a sample, degrees per second, right positive; 0 when hardly moving.
    /// </summary>
    /// <param name="i">Sample.</param>
    public double TrackRateDegPerS(int i)
    {
        var square = (EastKt[i] * EastKt[i]) + (NorthKt[i] * NorthKt[i]);
        return square < 25 ? 0 : ((NorthKt[i] * EastKtPerS[i]) - (EastKt[i] * NorthKtPerS[i])) / square * 180 / Math.PI;
    }

    /// <summary>First sample not before a time; <c>TimeS.Length</c> when none is.</summary>
    /// <param name="atS">Time, seconds.</param>
    public int FirstFrom(double atS)
    {
        var found = Array.BinarySearch(TimeS, atS);
        return found >= 0 ? found : ~found;
    }
}
