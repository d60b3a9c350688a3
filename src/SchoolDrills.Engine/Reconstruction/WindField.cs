using System.Text.Json.Serialization;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>Where a wind comes from.</summary>
[JsonConverter(typeof(KebabCase<WindSource>))]
public enum WindSource
{
    /// <summary>Nothing is known.</summary>
    None,

    /// <summary>Entered with the upload.</summary>
    Given,

    /// <summary>Solved from ground velocities in turns, or on different tracks with the airspeed or the heading recorded.</summary>
    Turns,

    /// <summary>Ground velocity less the recorded heading and airspeed.</summary>
    AirData,
}

/// <summary>
/// The motion of the air, changing evenly with height: knots toward east and north at a reference altitude, and their change for
/// each thousand feet above it.
/// </summary>
/// <param name="EastKt">Toward east at the reference altitude, knots.</param>
/// <param name="NorthKt">Toward north at the reference altitude, knots.</param>
/// <param name="EastPerKft">Change of the east part, knots per 1,000 ft.</param>
/// <param name="NorthPerKft">Change of the north part, knots per 1,000 ft.</param>
/// <param name="ReferenceAltitudeFt">Reference altitude, feet.</param>
/// <param name="SigmaKt">One standard deviation of the vector per axis at the reference altitude, knots.</param>
/// <param name="Source">Where it comes from.</param>
public sealed record WindField(
    double EastKt,
    double NorthKt,
    double EastPerKft,
    double NorthPerKft,
    double ReferenceAltitudeFt,
    double SigmaKt,
    WindSource Source
)
{
    /// <summary>One standard deviation of the change per axis, knots per 1,000 ft.</summary>
    public double SigmaPerKft { get; init; }

    /// <summary>Still air of which nothing is known.</summary>
    public static WindField Unknown { get; } = new(0, 0, 0, 0, 0, double.PositiveInfinity, WindSource.None);

    /// <summary>Wind that a person entered: good to about 5 kt per axis.</summary>
    /// <param name="fromDegTrue">Direction it blows from, degrees true.</param>
    /// <param name="speedKt">Speed, knots.</param>
    public static WindField Given(double fromDegTrue, double speedKt)
    {
        var (sin, cos) = Math.SinCos(fromDegTrue * Math.PI / 180);
        return new WindField(-speedKt * sin, -speedKt * cos, 0, 0, 0, WindModel.GivenWindSigmaKt, WindSource.Given);
    }

    /// <summary>Motion of the air at an altitude, knots toward east and north. Constant beyond 5,000 ft from the reference.</summary>
    /// <param name="altitudeFt">Altitude, feet; NaN for the reference.</param>
    public (double EastKt, double NorthKt) At(double altitudeFt)
    {
        var kft = double.IsFinite(altitudeFt)
            ? Math.Clamp((altitudeFt - ReferenceAltitudeFt) / 1000, -WindModel.ShearReachKft, WindModel.ShearReachKft)
            : 0;
        return (EastKt + (EastPerKft * kft), NorthKt + (NorthPerKft * kft));
    }

    /// <summary>One standard deviation of the vector per axis at an altitude, knots.</summary>
    /// <param name="altitudeFt">Altitude, feet; NaN for the reference.</param>
    public double SigmaKtAt(double altitudeFt)
    {
        var kft = double.IsFinite(altitudeFt) ? (altitudeFt - ReferenceAltitudeFt) / 1000 : 0;
        return Math.Sqrt((SigmaKt * SigmaKt) + (SigmaPerKft * SigmaPerKft * kft * kft));
    }

    /// <summary>Direction the wind blows from at an altitude, degrees true in (0, 360].</summary>
    /// <param name="altitudeFt">Altitude, feet.</param>
    public double FromDegTrue(double altitudeFt)
    {
        var (east, north) = At(altitudeFt);
        return Flight.Angles.NormalizeDeg(Math.Atan2(-east, -north) * 180 / Math.PI);
    }

    /// <summary>Speed at an altitude, knots.</summary>
    /// <param name="altitudeFt">Altitude, feet.</param>
    public double SpeedKt(double altitudeFt)
    {
        var (east, north) = At(altitudeFt);
        return Math.Sqrt((east * east) + (north * north));
    }
}
