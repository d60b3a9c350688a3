namespace SchoolDrills.Engine.Scoring;

/// <summary>The drill's entry as flown, and how far the recording's altitude stands from the altimeter.</summary>
/// <param name="HeadingMagDeg">Entry heading, degrees magnetic.</param>
/// <param name="AltitudeFt">Entry altitude, feet indicated.</param>
/// <param name="AltitudeOffsetFt">
/// To be added to the recording's altitude to make it the altimeter's, feet; 0 where the altimeter itself was recorded.
/// </param>
/// <param name="AltitudeAnchorSigmaFt">One standard deviation of that offset, feet.</param>
public sealed record EstimatedEntry(double HeadingMagDeg, double AltitudeFt, double AltitudeOffsetFt, double AltitudeAnchorSigmaFt);
