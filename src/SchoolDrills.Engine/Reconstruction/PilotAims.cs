namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// What the pilot of a drill set out to hold. Weak evidence on the wind, since pilots stray: a straight flown off its heading, or an
/// airspeed let go, counts for little, and what all straights have in common counts for nothing.
/// </summary>
/// <param name="AirspeedKtAt">Airspeed to have, knots indicated, at a time in seconds since the recording's epoch.</param>
/// <param name="Straights">Straights that were flown.</param>
public sealed record PilotAims(Func<double, double> AirspeedKtAt, IReadOnlyList<AimedStraight> Straights);

/// <summary>A straight with its heading.</summary>
/// <param name="FromS">Begun, seconds since the recording's epoch.</param>
/// <param name="ToS">Left, seconds since the recording's epoch.</param>
/// <param name="HeadingDeg">Heading to hold, degrees; only the differences between straights are used.</param>
public sealed record AimedStraight(double FromS, double ToS, double HeadingDeg);
