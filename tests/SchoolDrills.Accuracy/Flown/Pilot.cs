namespace SchoolDrills.Accuracy.Flown;

/// <summary>
/// Flies legs by instruments as people do: looks at one instrument at a time for 0.7 to 2 s, or stares at one, acts on what was read when
/// the look is over, leaves alone what is inside his dead-bands, leads roll-outs and level-offs with some error, and lets the attitude
/// wander.
/// </summary>
internal sealed class Pilot
{
    /// <summary>A straight begun late is still flown for this share of its length.</summary>
    public const double LeastShare = 0.4;

    /// <summary>How often a look becomes a stare, how much longer it then is, and how much tunnel vision sees of the rest.</summary>
    private const double StareShare = 0.02,
        StareLooks = 5,
        TunnelSees = 0.15;

    private readonly Random random;
    private readonly Aeroplane plane;
    private readonly PilotHabits habits;
    private readonly double slop;
    private readonly Wander bankWander,
        climbWander;
    private readonly List<(Lapse Lapse, double StartS, LegFlown Leg)> lapses = [];

    private Instrument look = Instrument.Heading;
    private double lookUntilS,
        dwellMultiplier = 1;
    private double bankAimDeg,
        straightenAtS = double.PositiveInfinity,
        climbAimFpm,
        pitchAtS,
        rollOutDueS,
        levelOffDueS,
        rollOutLead,
        levelOffLead,
        powerKt;
    private readonly double saturatedPowerKt;
    private bool wrongWay;
    private double startHeadingDeg;

    /// <summary>A pilot in an aeroplane.</summary>
    /// <param name="random">Chance.</param>
    /// <param name="plane">The aeroplane.</param>
    /// <param name="habits">The pilot's own.</param>
    /// <param name="skill">0 to 1.</param>
    public Pilot(Random random, Aeroplane plane, PilotHabits habits, double skill)
    {
        this.random = random;
        this.plane = plane;
        this.habits = habits;
        slop = 1 - skill;
        saturatedPowerKt = random.Sign() * random.Between(18, 28);
        bankWander = new(random, 0.5 + (1.9 * slop), 5);
        climbWander = new(random, 20 + (110 * slop), 9);
    }

    public LegFlown Flown { get; private set; } = null!;

    public Load? Load { get; set; }

    /// <summary>From seeing that it is time to moving the controls, seconds.</summary>
    public double Reaction() => habits.ReactionShare * (0.15 + random.Wait(0.15 + (0.45 * slop)));

    /// <summary>How late by the clock he ends a straight, seconds.</summary>
    public double ClockSlop() => random.Wait(0.25 + (0.9 * slop)) - (0.5 * slop * random.NextDouble());

    /// <summary>The last leg as it was left: where he gave it up, if he did, is where he goes on from.</summary>
    public Leg Left =>
        HasGivenUp ? Flown.Leg with { HeadingDeg = Math.Round(plane.HeadingDeg), AltitudeFt = Math.Round(plane.AltitudeFt) } : Flown.Leg;

    private bool HasGivenUp => Flown is { } last && double.IsFinite(last.Leg.GivenUpS);

    /// <summary>Begins a leg: the first movement of the controls.</summary>
    public void Begin(Leg leg, double nowS)
    {
        // A maneuver that is given up ends with neither roll-out nor level-off of its own.
        if (HasGivenUp)
            (bankAimDeg, climbAimFpm) = (0, 0);
        Flown = new LegFlown(leg, nowS);
        foreach (var lapse in leg.Lapses)
            lapses.Add((lapse, nowS, Flown));
        (rollOutDueS, levelOffDueS, startHeadingDeg) = (double.NaN, double.NaN, plane.HeadingDeg);
        rollOutLead = Math.Max(0.1, 1 + ((0.1 + (0.35 * slop)) * random.Gaussian()));
        levelOffLead = Math.Max(0.1, 1.3 + ((0.15 + (0.5 * slop)) * random.Gaussian()));
        if (leg.TurnRateDegPerS != 0)
        {
            wrongWay = leg.WrongWayDeg > 0;
            bankAimDeg = plane.BankFor(leg.TurnRateDegPerS) * (wrongWay ? -1 : 1) * (1 + (0.15 * slop * random.Gaussian()));
            plane.RollLimitDegPerS = Math.Max(
                3,
                Math.Max(1, Math.Abs(bankAimDeg) / 18) * (plane.Type.RollRateDegPerS + (0.6 * random.Gaussian()))
            );
            straightenAtS = double.PositiveInfinity;
        }

        pitchAtS = nowS + (leg.TurnRateDegPerS == 0 ? 0 : random.Between(0, 0.6 + slop));
        SetPower(leg.VerticalSpeedFpm, leg.TurnRateDegPerS == 0 ? 0 : bankAimDeg);
    }

    /// <summary>Flies on for a moment; true once the leg is done.</summary>
    public bool Step(double nowS, double dtS)
    {
        dwellMultiplier = Load?.DwellMultiplier ?? 1;
        if (nowS >= lookUntilS)
        {
            Act(nowS);
            var stares = habits.Fixates && random.Happens(StareShare);
            look = stares ? habits.Favourite : Next();
            lookUntilS = nowS + (random.Between(0.7, 2) * (0.75 + (0.4 * slop)) * dwellMultiplier * (stares ? StareLooks : 1));
        }

        Turn(nowS);
        Climb(nowS);
        if (nowS >= straightenAtS)
            (bankAimDeg, straightenAtS) = (0, double.PositiveInfinity);
        plane.BankAimDeg = bankAimDeg + (bankWander.Step(dtS) * Rougher);
        plane.VerticalSpeedAimFpm = climbAimFpm + (climbWander.Step(dtS) * Rougher) - (6 * slop * Math.Abs(plane.BankDeg));
        // Saturated, he flies on with the power that happens to be set.
        plane.PowerKt = powerKt + Offset(Quantity.Airspeed, nowS) + (Load is { Saturates: true } ? saturatedPowerKt : 0);
        plane.Step(dtS);
        return Done(nowS);
    }

    /// <summary>How much more the attitude wanders under load.</summary>
    private double Rougher => Load is { Saturates: true } ? 5 : Math.Sqrt(dwellMultiplier);

    private void Turn(double nowS)
    {
        var leg = Flown.Leg;
        if (leg.TurnRateDegPerS == 0 || double.IsFinite(Flown.RollOutS))
            return;
        var sense = Math.Sign(leg.TurnRateDegPerS);
        if (wrongWay)
        {
            if ((plane.HeadingDeg - startHeadingDeg) * sense > -leg.WrongWayDeg)
                return;
            wrongWay = false;
            bankAimDeg = plane.BankFor(leg.TurnRateDegPerS);
        }

        var leftDeg = (leg.HeadingDeg + Offset(Quantity.Heading, nowS) - plane.HeadingDeg) * sense;
        var leadDeg = leg.TurnGoesOn ? 0 : Math.Abs(plane.BankDeg) / 2 * rollOutLead;
        if (double.IsNaN(rollOutDueS) && leftDeg <= leadDeg)
            rollOutDueS = nowS + (random.Wait(0.1 + (0.6 * slop)) * habits.ReactionShare * dwellMultiplier);
        if (!(nowS >= rollOutDueS))
            return;
        Flown.RollOutS = nowS;
        if (!leg.TurnGoesOn)
            bankAimDeg = 0;
    }

    private void Climb(double nowS)
    {
        var leg = Flown.Leg;
        if (leg.VerticalSpeedFpm == 0 || double.IsFinite(Flown.LevelOffS))
            return;
        if (nowS >= pitchAtS)
        {
            climbAimFpm = leg.VerticalSpeedFpm * (1 + (0.15 * slop * random.Gaussian()));
            pitchAtS = double.PositiveInfinity;
        }

        var leftFt = (leg.AltitudeFt + Offset(Quantity.Altitude, nowS) - plane.AltitudeFt) * Math.Sign(leg.VerticalSpeedFpm);
        if (double.IsNaN(levelOffDueS) && leftFt <= Math.Abs(plane.VerticalSpeedFpm) * 0.1 * levelOffLead)
            levelOffDueS = nowS + (random.Wait(0.1 + (0.7 * slop)) * habits.ReactionShare * dwellMultiplier);
        if (!(nowS >= levelOffDueS))
            return;
        Flown.LevelOffS = nowS;
        climbAimFpm = 0;
        SetPower(0, leg.TurnRateDegPerS == 0 || double.IsFinite(Flown.RollOutS) ? 0 : bankAimDeg);
    }

    private bool Done(double nowS)
    {
        var leg = Flown.Leg;
        if (nowS - Flown.StartS >= leg.GivenUpS)
            return true;
        if (leg.TurnRateDegPerS == 0 && leg.VerticalSpeedFpm == 0)
            return nowS >= StraightEndS;
        var turned = leg.TurnRateDegPerS == 0 || double.IsFinite(Flown.RollOutS);
        // A climb far too slow is not waited for without end.
        var climbed =
            leg.VerticalSpeedFpm == 0 || double.IsFinite(Flown.LevelOffS) || (leg.TurnRateDegPerS != 0 && nowS - Flown.RollOutS > 40);
        return turned && climbed;
    }

    /// <summary>When a straight ends, seconds of the flight: set when it is begun.</summary>
    public double StraightEndS { get; set; }

    /// <summary>Errors of how a leg is ended are noticed some time after it.</summary>
    private double Offset(Quantity quantity, double nowS)
    {
        var sum = 0.0;
        foreach (var (lapse, startS, of) in lapses)
        {
            if (lapse.Quantity != quantity || nowS < startS + lapse.FromS)
                continue;
            var there = double.IsInfinity(lapse.RatePerS) ? 0 : Math.Abs(lapse.Size) / lapse.RatePerS;
            var endS = lapse.PastEnd
                ? (of.EndS > 0 ? of.EndS : double.PositiveInfinity) + lapse.HoldS
                : startS + lapse.FromS + there + lapse.HoldS;
            if (nowS > endS)
                continue;
            sum += lapse.Size * (there == 0 ? 1 : Math.Min(1, (nowS - startS - lapse.FromS) / there));
        }

        return sum;
    }

    private void Act(double nowS)
    {
        var leg = Flown.Leg;
        var turning = leg.TurnRateDegPerS != 0 && double.IsNaN(Flown.RollOutS);
        var climbing = leg.VerticalSpeedFpm != 0 && double.IsNaN(Flown.LevelOffS);
        var style = habits.Corrections;
        switch (look)
        {
            case Instrument.Heading when !turning && Math.Abs(plane.BankDeg) < 7 && !(leg.TurnGoesOn && leg.TurnRateDegPerS != 0):
                var offDeg = leg.HeadingDeg + Offset(Quantity.Heading, nowS) - plane.HeadingDeg + (0.5 * random.Gaussian());
                if (Math.Abs(offDeg) < 1 + (2.5 * slop))
                    break;
                bankAimDeg = Math.Clamp(style.BankPerDeg * offDeg, -style.MostBankDeg, style.MostBankDeg);
                // Half of rolling in and out is spent turning as well.
                straightenAtS = nowS + Math.Max(0.5, (Math.Abs(offDeg / (bankAimDeg * 0.2)) * 0.85) - 1);
                break;
            case Instrument.Altimeter when !climbing:
                var offFt = leg.AltitudeFt + Offset(Quantity.Altitude, nowS) - plane.AltitudeFt + (5 * random.Gaussian());
                climbAimFpm =
                    Math.Abs(offFt) < 12 + (60 * slop)
                        ? 0
                        : Math.Clamp(style.FpmPerFt * offFt, -style.MostFpm, style.MostFpm) * (1 + (0.3 * slop * random.Gaussian()));
                break;
            case Instrument.VerticalSpeed when climbing && nowS > Flown.StartS + 6:
                var offFpm = leg.VerticalSpeedFpm - plane.VerticalSpeedFpm;
                if (Math.Abs(offFpm) > 30 + (80 * slop))
                    climbAimFpm += 0.5 * offFpm;
                break;
            case Instrument.TurnCoordinator when turning && !wrongWay && nowS > Flown.StartS + 5:
                var offRate = leg.TurnRateDegPerS - plane.TurnRateDegPerS;
                if (Math.Abs(offRate) > 0.15 + (0.4 * slop))
                    bankAimDeg += 0.5 * (plane.BankFor(leg.TurnRateDegPerS) - plane.BankFor(plane.TurnRateDegPerS));
                break;
            case Instrument.Airspeed:
                var offKt = TargetKt(nowS) + Offset(Quantity.Airspeed, nowS) - plane.AirspeedKt;
                if (Math.Abs(offKt) > 1.5 + (4.5 * slop))
                    powerKt += Math.Clamp(0.5 * offKt, -5, 5);
                break;
        }
    }

    private double TargetKt(double nowS) =>
        Flown.Leg.Airspeed.FromKt
        + (
            (Flown.Leg.Airspeed.ToKt - Flown.Leg.Airspeed.FromKt)
            * Math.Clamp(Flown.Leg.DurationS > 0 ? (nowS - Flown.StartS) / Flown.Leg.DurationS : 1, 0, 1)
        );

    private void SetPower(double verticalSpeedFpm, double bankDeg)
    {
        var (fromKt, toKt) = Flown.Leg.Airspeed;
        // A speed change asks for power beyond that of the speed to come.
        var aheadKt = fromKt == toKt ? 0 : plane.Type.SpeedLagS * (toKt - fromKt) / Flown.Leg.DurationS;
        var holdsKt = Aeroplane.PowerFor(fromKt, verticalSpeedFpm, bankDeg) - fromKt;
        powerKt =
            fromKt + aheadKt + (holdsKt * (1 + ((0.08 + (0.4 * slop)) * random.Gaussian()))) + ((0.6 + (3 * slop)) * random.Gaussian());
    }

    private Instrument Next()
    {
        var leg = Flown.Leg;
        var (turning, climbing) = (leg.TurnRateDegPerS != 0, leg.VerticalSpeedFpm != 0);
        if (dwellMultiplier > 1 && random.Happens(Load!.OffPanelShare))
            return Instrument.OffPanel;
        double[] weights = [1, 1, climbing ? 1.2 : 0.4, 0.7, turning ? 1.2 : 0.2, 0.2];
        var tunnel = habits.Tunnels && Load is { Saturates: true };
        return random.One(Enum.GetValues<Instrument>(), seen => weights[(int)seen] * (tunnel && seen != habits.Favourite ? TunnelSees : 1));
    }
}
