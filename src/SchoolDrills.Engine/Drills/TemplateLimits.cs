namespace SchoolDrills.Engine.Drills;

/// <summary>
/// The most that a template may have: wide enough for any light-aircraft drill, narrow enough to catch a typing error.
/// </summary>
/// <remarks>Basis: common practice.</remarks>
public static class TemplateLimits
{
    /// <summary>Segments of the drill flown, repetitions expanded.</summary>
    public const int Segments = 500;

    /// <summary>Deepest nesting of groups.</summary>
    public const int GroupDepth = 4;

    /// <summary>Checks, and load tasks, each.</summary>
    public const int Calls = 200;

    /// <summary>Length of a drill, seconds.</summary>
    public const double DurationS = 3 * 3600;

    /// <summary>Shortest segment, seconds.</summary>
    public const double ShortestS = 1;

    /// <summary>Turn of one segment, degrees.</summary>
    public const double TurnDeg = 3600;

    /// <summary>Rate of turn, degrees per second.</summary>
    public const double TurnRateDegPerS = 15;

    /// <summary>Angle of bank that a turn may need at the entry airspeed, degrees.</summary>
    public const double BankDeg = 60;

    /// <summary>Vertical speed, feet per minute.</summary>
    public const double VerticalSpeedFpm = 2000;

    /// <summary>Lowest and highest indicated altitude, feet.</summary>
    public const double LowestAltitudeFt = -1000,
        HighestAltitudeFt = 45000;

    /// <summary>Lowest and highest indicated airspeed, knots.</summary>
    public const double LowestAirspeedKt = 30,
        HighestAirspeedKt = 400;

    /// <summary>Length of a title or a name, characters.</summary>
    public const int NameLength = 120;

    /// <summary>Length of any other text, characters.</summary>
    public const int TextLength = 2000;
}
