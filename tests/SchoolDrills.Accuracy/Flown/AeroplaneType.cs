namespace SchoolDrills.Accuracy.Flown;

/// <summary>How a kind of light aeroplane answers the controls, and the speeds and rates at which it is flown. Invented types.</summary>
/// <param name="Name">In words.</param>
/// <param name="Share">How often it is drawn.</param>
/// <param name="RollRateDegPerS">Rate of roll that an instrument pilot uses into a standard-rate turn.</param>
/// <param name="RollLagS">Time in which the rate of roll follows the controls.</param>
/// <param name="PitchFpmPerS">How fast vertical speed is gained by pitching, feet per minute each second.</param>
/// <param name="PathLagS">Time in which the flight path follows pitch.</param>
/// <param name="SpeedLagS">Time in which airspeed follows power.</param>
/// <param name="CruiseKt">Cruise, indicated.</param>
/// <param name="ClimbKt">Climb-out.</param>
/// <param name="ApproachKt">Approach.</param>
/// <param name="SlowKt">Slow flight.</param>
/// <param name="DrillKt">Drills that the catalogue writes for 90 kt.</param>
/// <param name="ClimbFpm">Climb-out.</param>
/// <param name="DescentFpm">Descent for home.</param>
internal sealed record AeroplaneType(
    string Name,
    double Share,
    double RollRateDegPerS,
    double RollLagS,
    double PitchFpmPerS,
    double PathLagS,
    double SpeedLagS,
    double CruiseKt,
    double ClimbKt,
    double ApproachKt,
    double SlowKt,
    double DrillKt,
    double ClimbFpm,
    double DescentFpm
)
{
    /// <summary>Airspeed at which the catalogue writes its drills, knots.</summary>
    public const double CatalogueKt = 90;

    public static readonly AeroplaneType[] All =
    [
        new("two-seat trainer", 0.25, 5.2, 0.7, 220, 0.9, 12, 88, 67, 62, 55, 80, 600, 450),
        new("four-seat trainer", 0.35, 4.8, 0.9, 200, 1.0, 16, 98, 76, 68, 60, 90, 650, 500),
        new("low-wing trainer", 0.2, 5.6, 0.8, 210, 1.0, 16, 102, 78, 72, 64, 90, 650, 550),
        new("retractable single", 0.1, 4.6, 1.0, 190, 1.1, 22, 125, 88, 80, 70, 100, 850, 600),
        new("light twin", 0.1, 4.2, 1.1, 180, 1.2, 24, 140, 105, 90, 85, 120, 1000, 700),
    ];

    public static AeroplaneType Draw(Random random) => random.One(All, type => type.Share);
}
