namespace SchoolDrills.Engine.Scoring;

/// <summary>The drill's entry as flown, and how far the recording's altitude stands from the altimeter.</summary>
/// <remarks>
/// Satellites and pressure alone do not know the altimeter: the entry altitude is then a guess, and only how altitude varied about the
/// level that was held is measured.
/// </remarks>
/// <param name="HeadingMagDeg">Entry heading, degrees magnetic.</param>
/// <param name="AltitudeFt">Entry altitude, feet indicated.</param>
/// <param name="AltitudeOffsetFt">
/// To be added to the recording's altitude to make it the altimeter's, feet; 0 where the altimeter itself was recorded.
/// </param>
/// <param name="AltitudeAnchorSigmaFt">
/// One standard deviation of the level that was held about the one that was meant, feet.
/// </param>
public sealed record EstimatedEntry(double HeadingMagDeg, double AltitudeFt, double AltitudeOffsetFt, double AltitudeAnchorSigmaFt)
{
    /// <summary>One standard deviation of the entry heading, degrees; null where it was given or could not be seen.</summary>
    public double? HeadingSigmaDeg { get; init; }

    /// <summary>One standard deviation of the entry altitude, feet; null where it was given or could not be seen.</summary>
    public double? AltitudeSigmaFt { get; init; }
}
