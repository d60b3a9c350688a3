using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>
/// An aeroplane as far as instruments show it: bank, vertical speed and airspeed follow what the pilot sets with the lags of its type,
/// heading follows bank by the coordinated turn, and gusts that last for seconds disturb all of it.
/// </summary>
internal sealed class Aeroplane
{
    /// <summary>Time in which a pilot takes up a bank, and in which pitch follows the controls, seconds.</summary>
    private const double BankLagS = 1.5,
        PitchLagS = 0.8;

    /// <summary>Time in which a gust takes the aeroplane along, seconds.</summary>
    private const double CarriedS = 6;

    /// <summary>Airspeed that a vertical speed costs at the same power, knots per foot per minute, and a bank, knots.</summary>
    private const double ClimbCostKtPerFpm = 0.034,
        TurnCostKt = 9;

    /// <summary>Angle between nose and flight path at the speed for drills, degrees.</summary>
    private const double AttackDeg = 1.8;

    private readonly Day day;
    private readonly Wander rollGust,
        liftGust,
        thermal,
        eastGust,
        northGust;
    private double rollRateDegPerS,
        pitchRate,
        pitchFpm,
        pathFpm,
        carriedEastKt,
        carriedNorthKt,
        nowS;

    public Aeroplane(Day day, AeroplaneType type, Random random)
    {
        this.day = day;
        Type = type;
        RollLimitDegPerS = type.RollRateDegPerS;
        rollGust = new(random, 1.2 * day.Turbulence, 0.8);
        liftGust = new(random, 90 * day.Turbulence, 2.5);
        thermal = new(random, 45 * day.Turbulence, 25);
        eastGust = new(random, 1.1 * day.Turbulence, 5);
        northGust = new(random, 1.1 * day.Turbulence, 5);
        AltitudeFt = day.FieldIndicatedFt;
    }

    public AeroplaneType Type { get; }

    /// <summary>
    /// What the pilot sets: bank, how fast he rolls, vertical speed by pitch, and power as the airspeed that it holds in level flight.
    /// </summary>
    public double BankAimDeg { get; set; }

    public double RollLimitDegPerS { get; set; }

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
        Move(dtS, speedKt, HeadingDeg, (0, 0));
    }

    public void Step(double dtS)
    {
        var wanted = Math.Clamp((BankAimDeg - BankDeg) / BankLagS, -RollLimitDegPerS, RollLimitDegPerS);
        rollRateDegPerS += (wanted - rollRateDegPerS) * dtS / Type.RollLagS;
        BankDeg += (rollRateDegPerS + rollGust.Step(dtS)) * dtS;
        var pitchWanted = Math.Clamp((VerticalSpeedAimFpm - pitchFpm) / 1.5, -Type.PitchFpmPerS, Type.PitchFpmPerS);
        pitchRate += (pitchWanted - pitchRate) * dtS / PitchLagS;
        pitchFpm += pitchRate * dtS;
        pathFpm += (pitchFpm - pathFpm) * dtS / Type.PathLagS;
        VerticalSpeedFpm = pathFpm + liftGust.Step(dtS) + thermal.Step(dtS);
        AltitudeFt += VerticalSpeedFpm / 60 * dtS;
        SteadyKt += (PowerKt - (ClimbCostKtPerFpm * pathFpm) - TurnCost(BankDeg) - SteadyKt) * dtS / Type.SpeedLagS;
        double eastKt = eastGust.Step(dtS),
            northKt = northGust.Step(dtS);
        carriedEastKt += (eastKt - carriedEastKt) * dtS / CarriedS;
        carriedNorthKt += (northKt - carriedNorthKt) * dtS / CarriedS;
        // What has not taken the aeroplane along yet, its airspeed indicator shows.
        var (sin, cos) = Math.SinCos(Units.DegToRad(HeadingDeg + day.DeclinationDeg));
        AirspeedKt = SteadyKt - ((eastKt - carriedEastKt) * sin) - ((northKt - carriedNorthKt) * cos);
        TrueAirspeedKt = day.TrueAirspeedKt(AirspeedKt, AltitudeFt);
        TurnRateDegPerS = Units.RadToDeg(Units.StandardGravityMps2 * Math.Tan(Units.DegToRad(BankDeg)) / Units.KtToMps(TrueAirspeedKt));
        HeadingDeg += TurnRateDegPerS * dtS;
        var noseAheadDeg = AttackDeg * Math.Pow(Type.DrillKt / Math.Max(AirspeedKt, 50), 2) * Math.Sin(Units.DegToRad(BankDeg));
        var (windEastKt, windNorthKt) = day.WindAt(day.MslFt(AltitudeFt), nowS);
        Move(
            dtS,
            day.TrueAirspeedKt(SteadyKt, AltitudeFt),
            HeadingDeg - noseAheadDeg,
            (windEastKt + carriedEastKt, windNorthKt + carriedNorthKt)
        );
    }

    private void Move(double dtS, double throughAirKt, double towardDeg, (double EastKt, double NorthKt) air)
    {
        nowS += dtS;
        var (sin, cos) = Math.SinCos(Units.DegToRad(towardDeg + day.DeclinationDeg));
        (GroundEastKt, GroundNorthKt) = ((throughAirKt * sin) + air.EastKt, (throughAirKt * cos) + air.NorthKt);
        EastM += Units.KtToMps(GroundEastKt) * dtS;
        NorthM += Units.KtToMps(GroundNorthKt) * dtS;
    }

    private static double TurnCost(double bankDeg) => TurnCostKt * Math.Pow(Math.Tan(Units.DegToRad(bankDeg)), 2);
}
