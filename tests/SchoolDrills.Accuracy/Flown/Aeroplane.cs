using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>
/// A light trainer as far as instruments show it: bank, vertical speed and airspeed follow what the pilot sets with the lags of such an
/// aeroplane, heading follows bank by the coordinated turn, and gusts disturb all of it.
/// </summary>
internal sealed class Aeroplane
{
    /// <summary>Time in which roll rate, pitch, flight path and airspeed follow, seconds.</summary>
    private const double RollLagS = 0.9,
        BankLagS = 1.5,
        PitchLagS = 0.8,
        PathLagS = 1.0,
        SpeedLagS = 16;

    /// <summary>How fast an instrument pilot pitches: vertical speed gained, feet per minute each second.</summary>
    private const double PitchFpmPerS = 200;

    /// <summary>Airspeed that a vertical speed costs at the same power, knots per foot per minute, and a bank, knots.</summary>
    private const double ClimbCostKtPerFpm = 0.034,
        TurnCostKt = 9;

    /// <summary>Angle between nose and flight path at 90 kt, degrees.</summary>
    private const double AttackDeg = 1.8;

    private readonly Day day;
    private readonly Wander rollGust,
        liftGust,
        speedGust;
    private double rollRateDegPerS,
        pitchRate,
        pitchFpm,
        pathFpm;

    public Aeroplane(Day day, Random random)
    {
        this.day = day;
        rollGust = new(random, 1.2 * day.Turbulence, 0.8);
        liftGust = new(random, 95 * day.Turbulence, 2.5);
        speedGust = new(random, 1.0 * day.Turbulence, 3);
        AltitudeFt = day.FieldIndicatedFt;
    }

    /// <summary>
    /// What the pilot sets: bank, how fast he rolls, vertical speed by pitch, and power as the airspeed that it holds in level flight.
    /// </summary>
    public double BankAimDeg { get; set; }

    public double RollLimitDegPerS { get; set; } = 4.8;

    public double VerticalSpeedAimFpm { get; set; }

    public double PowerKt { get; set; }

    /// <summary>Magnetic heading, not taken back to a circle, degrees.</summary>
    public double HeadingDeg { get; set; }

    public double BankDeg { get; private set; }

    /// <summary>Altimeter reading, feet.</summary>
    public double AltitudeFt { get; set; }

    public double VerticalSpeedFpm { get; private set; }

    /// <summary>Airspeed without gusts, knots indicated.</summary>
    public double SteadyKt { get; set; }

    public double AirspeedKt { get; private set; }

    public double TrueAirspeedKt { get; private set; }

    public double TurnRateDegPerS { get; private set; }

    public double EastM { get; private set; }

    public double NorthM { get; private set; }

    public double GroundEastKt { get; private set; }

    public double GroundNorthKt { get; private set; }

    public double PitchDeg =>
        AttackDeg
        + (BankDeg == 0 ? 0 : 0.02 * Math.Abs(BankDeg))
        + (TrueAirspeedKt < 30 ? 0 : Units.RadToDeg(VerticalSpeedFpm / 101.27 / TrueAirspeedKt));

    /// <summary>Power that holds an airspeed in a climb and a bank, as airspeed in level flight, knots.</summary>
    public static double PowerFor(double airspeedKt, double verticalSpeedFpm, double bankDeg) =>
        airspeedKt + (ClimbCostKtPerFpm * verticalSpeedFpm) + TurnCost(bankDeg);

    /// <summary>Bank that makes a turn rate, degrees.</summary>
    public double BankFor(double turnRateDegPerS) =>
        Units.RadToDeg(
            Math.Atan(Units.KtToMps(Math.Max(TrueAirspeedKt, 40)) * Units.DegToRad(turnRateDegPerS) / Units.StandardGravityMps2)
        );

    /// <summary>Rolling along the runway, not yet flying.</summary>
    public void Taxi(double dtS, double speedKt)
    {
        SteadyKt = AirspeedKt = speedKt;
        TrueAirspeedKt = day.TrueAirspeedKt(speedKt, AltitudeFt);
        Move(dtS, 0, onGround: true);
    }

    public void Step(double dtS)
    {
        var wanted = Math.Clamp((BankAimDeg - BankDeg) / BankLagS, -RollLimitDegPerS, RollLimitDegPerS);
        rollRateDegPerS += (wanted - rollRateDegPerS) * dtS / RollLagS;
        BankDeg += (rollRateDegPerS + rollGust.Step(dtS)) * dtS;
        var pitchWanted = Math.Clamp((VerticalSpeedAimFpm - pitchFpm) / 1.5, -PitchFpmPerS, PitchFpmPerS);
        pitchRate += (pitchWanted - pitchRate) * dtS / PitchLagS;
        pitchFpm += pitchRate * dtS;
        pathFpm += (pitchFpm - pathFpm) * dtS / PathLagS;
        VerticalSpeedFpm = pathFpm + liftGust.Step(dtS);
        AltitudeFt += VerticalSpeedFpm / 60 * dtS;
        SteadyKt += (PowerKt - (ClimbCostKtPerFpm * pathFpm) - TurnCost(BankDeg) - SteadyKt) * dtS / SpeedLagS;
        AirspeedKt = SteadyKt + speedGust.Step(dtS);
        TrueAirspeedKt = day.TrueAirspeedKt(AirspeedKt, AltitudeFt);
        TurnRateDegPerS = Units.RadToDeg(Units.StandardGravityMps2 * Math.Tan(Units.DegToRad(BankDeg)) / Units.KtToMps(TrueAirspeedKt));
        HeadingDeg += TurnRateDegPerS * dtS;
        Move(dtS, AttackDeg * Math.Pow(90 / Math.Max(AirspeedKt, 50), 2) * Math.Sin(Units.DegToRad(BankDeg)), onGround: false);
    }

    private void Move(double dtS, double noseAheadDeg, bool onGround)
    {
        // Gusts shake the airspeed long before they move the aeroplane over the ground.
        var throughAirKt = onGround ? SteadyKt : day.TrueAirspeedKt(SteadyKt, AltitudeFt);
        var (sin, cos) = Math.SinCos(Units.DegToRad(HeadingDeg + day.DeclinationDeg - noseAheadDeg));
        var (windEastKt, windNorthKt) = onGround ? (0, 0) : day.WindAt(day.MslFt(AltitudeFt));
        (GroundEastKt, GroundNorthKt) = ((throughAirKt * sin) + windEastKt, (throughAirKt * cos) + windNorthKt);
        EastM += Units.KtToMps(GroundEastKt) * dtS;
        NorthM += Units.KtToMps(GroundNorthKt) * dtS;
    }

    private static double TurnCost(double bankDeg) => TurnCostKt * Math.Pow(Math.Tan(Units.DegToRad(bankDeg)), 2);
}
