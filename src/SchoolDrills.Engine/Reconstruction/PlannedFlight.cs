namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// What the pilot of a drill planned to hold. It is weak evidence about the wind: a straight flown off its heading, or an airspeed not
/// held, counts for little, and a heading error that all straights share counts for nothing.
/// </summary>
/// <param name="AirspeedKtAt">Planned airspeed, knots indicated, at a time in seconds since the recording's epoch.</param>
/// <param name="Straights">Straights that were flown.</param>
public sealed record PlannedFlight(Func<double, double> AirspeedKtAt, IReadOnlyList<PlannedStraight> Straights);

/// <summary>A straight with its planned heading.</summary>
/// <param name="FromS">Start, seconds since the recording's epoch.</param>
/// <param name="ToS">End, seconds since the recording's epoch.</param>
/// <param name="HeadingDeg">Heading to hold, degrees; only the differences between straights are used.</param>
public sealed record PlannedStraight(double FromS, double ToS, double HeadingDeg);
