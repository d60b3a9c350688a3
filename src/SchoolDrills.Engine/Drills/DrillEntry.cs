namespace SchoolDrills.Engine.Drills;

/// <summary>How a drill is entered: the parameters that turn a template into headings, altitudes and speeds to hold.</summary>
/// <param name="HeadingMagDeg">Magnetic heading of the first segment, degrees, (0, 360].</param>
/// <param name="AltitudeFt">Indicated altitude of the first segment, feet.</param>
/// <param name="AirspeedKt">Indicated airspeed of the first segment, knots.</param>
/// <param name="Mirrored">Left and right mirrored.</param>
/// <param name="HalfRate">Turns at half the stated rate, taking twice the time; climbs and descents in turns take the turn's time.</param>
public sealed record DrillEntry(double HeadingMagDeg, double AltitudeFt, double AirspeedKt, bool Mirrored = false, bool HalfRate = false);
