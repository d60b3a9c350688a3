namespace SchoolDrills.Accuracy.Flown;

/// <summary>The true state at a moment, ten times a second.</summary>
internal readonly record struct Moment(
    double TimeS,
    double EastM,
    double NorthM,
    double AltitudeFt,
    double MslFt,
    double AirspeedKt,
    double TrueAirspeedKt,
    double HeadingDeg,
    double BankDeg,
    double PitchDeg,
    double VerticalSpeedFpm,
    double TurnRateDegPerS,
    double GroundEastKt,
    double GroundNorthKt
)
{
    public static Moment Of(Aeroplane plane, Day day, double timeS) =>
        new(
            timeS,
            plane.EastM,
            plane.NorthM,
            plane.AltitudeFt,
            day.MslFt(plane.AltitudeFt),
            plane.AirspeedKt,
            plane.TrueAirspeedKt,
            plane.HeadingDeg,
            plane.BankDeg,
            plane.PitchDeg,
            plane.VerticalSpeedFpm,
            plane.TurnRateDegPerS,
            plane.GroundEastKt,
            plane.GroundNorthKt
        );
}
