using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>Heading, magnetic, altitude and airspeed to settle on before a drill.</summary>
internal readonly record struct Entry(double HeadingDeg, double AltitudeFt, double AirspeedKt);

/// <summary>
/// General handling before, between and after drills, or instead of one: climb-out, transit, turns, climbs, slow flight, circuits,
/// orbits, the way home, each at an airspeed of its own.
/// </summary>
internal sealed class FreeFlight(Random random, AeroplaneType type, double fieldFt)
{
    private const double HourS = 3600,
        CircuitFt = 1000;

    private double headingDeg,
        altitudeFt,
        airspeedKt;

    /// <summary>From the runway to a drill's entry, with some exercises on the way.</summary>
    public IEnumerable<Leg> Before(double runwayDeg, Entry entry, int exercises)
    {
        foreach (var leg in ClimbOut(runwayDeg))
            yield return leg;
        // An exercise may climb; the drill begins at its own altitude all the same.
        yield return ClimbTo("climb", Math.Max(altitudeFt + 200, entry.AltitudeFt), 0.9 * type.ClimbFpm);
        airspeedKt = type.CruiseKt;
        yield return Straight("transit", random.Between(60, 150));
        for (var i = 0; i < exercises; i++)
        {
            foreach (var leg in Exercise())
                yield return leg;
        }

        foreach (var leg in To(entry, random.Between(30, 60)))
            yield return leg;
    }

    /// <summary>Other flight inside a lesson, and back to where it goes on: traffic, a demonstration, another try.</summary>
    public IEnumerable<Leg> AwayAndBack(Leg from, Entry entry)
    {
        Continue(from);
        airspeedKt = type.CruiseKt;
        yield return Turn("turn-away", random.Sign() * random.Between(30, 150), 3);
        yield return Straight("away", random.Between(10, 60));
        if (random.Happens(0.3))
        {
            foreach (var leg in Exercise())
                yield return leg;
        }

        foreach (var leg in To(entry, random.Between(10, 40)))
            yield return leg;
    }

    /// <summary>Home.</summary>
    public IEnumerable<Leg> After(Leg from)
    {
        Continue(from);
        airspeedKt = type.CruiseKt;
        yield return Straight("after-straight", random.Between(20, 45));
        yield return Turn("turn-home", random.Sign() * random.Between(60, 170), 3);
        yield return Straight("transit-home", random.Between(60, 120));
        yield return ClimbTo("descent", fieldFt + CircuitFt, type.DescentFpm);
        yield return Turn("join", random.Sign() * random.Between(50, 90), 3);
        yield return Straight("downwind", random.Between(30, 60));
        airspeedKt = type.ApproachKt;
        yield return ClimbTo("approach-descent", fieldFt + 250, 450);
    }

    /// <summary>Straight on for some seconds at the end of a recording of the drill alone.</summary>
    public IEnumerable<Leg> StraightOn(Leg from)
    {
        Continue(from);
        yield return Straight("after-straight", 5);
    }

    /// <summary>Straight flight before a drill.</summary>
    public IEnumerable<Leg> Settle(Entry entry, double lengthS)
    {
        (headingDeg, altitudeFt, airspeedKt) = entry;
        yield return Straight("settle", lengthS);
    }

    /// <summary>An hour and more: circuits, general handling at changing airspeeds, orbits to wait, exercises, home.</summary>
    public IEnumerable<Leg> WithoutDrill(double runwayDeg, Func<double> nowS)
    {
        foreach (var leg in random.Happens(0.4) ? Circuits(runwayDeg, random.Next(2, 6)) : ClimbOut(runwayDeg))
            yield return leg;
        yield return ClimbTo("climb", fieldFt + random.Between(1800, 3500), 0.9 * type.ClimbFpm);
        while (nowS() < HourS)
        {
            var what = random.NextDouble();
            var next =
                what < 0.5 ? Exercise()
                : what < 0.62 ? Orbits()
                : Handling(nowS);
            foreach (var leg in next)
                yield return leg;
        }

        foreach (var leg in After(Straight("homeward", 0)))
            yield return leg;
        if (random.Happens(0.3))
        {
            foreach (var leg in Circuits(headingDeg, random.Next(1, 4)))
                yield return leg;
        }
    }

    private void Continue(Leg from) => (headingDeg, altitudeFt, airspeedKt) = (from.HeadingDeg, from.AltitudeFt, from.Airspeed.ToKt);

    private IEnumerable<Leg> To(Entry entry, double settleS)
    {
        if (Math.Abs(altitudeFt - entry.AltitudeFt) > 1)
            yield return ClimbTo("to-entry-altitude", entry.AltitudeFt, 500);
        var turnDeg = Angles.DifferenceDeg(entry.HeadingDeg, headingDeg);
        if (Math.Abs(turnDeg) > 1)
            yield return Turn("turn-to-entry-heading", turnDeg, 3);
        airspeedKt = entry.AirspeedKt;
        yield return Straight("settle", settleS);
    }

    private IEnumerable<Leg> ClimbOut(double runwayDeg)
    {
        (headingDeg, altitudeFt, airspeedKt) = (runwayDeg, fieldFt, type.ClimbKt);
        yield return ClimbTo("climb-out", fieldFt + random.Between(500, 900), type.ClimbFpm);
        yield return Turn("climbing-turn", random.Sign() * random.Between(60, 140), 2.6) with
        {
            VerticalSpeedFpm = 0.8 * type.ClimbFpm,
            AltitudeFt = altitudeFt += 400,
        };
    }

    /// <summary>Rectangular circuits with a low approach each.</summary>
    private IEnumerable<Leg> Circuits(double runwayDeg, int times)
    {
        var turnDeg = 90 * random.Sign();
        (headingDeg, altitudeFt) = (runwayDeg, fieldFt);
        for (var i = 0; i < times; i++)
        {
            airspeedKt = type.ClimbKt;
            yield return ClimbTo("climb-out", fieldFt + 500, type.ClimbFpm);
            yield return Turn("crosswind", turnDeg, 3) with
            {
                VerticalSpeedFpm = 0.8 * type.ClimbFpm,
                AltitudeFt = altitudeFt += 300,
            };
            yield return ClimbTo("crosswind-climb", fieldFt + CircuitFt, type.ClimbFpm);
            airspeedKt = 0.85 * type.CruiseKt;
            yield return Turn("downwind-turn", turnDeg, 3);
            yield return Straight("downwind", random.Between(60, 110));
            airspeedKt = type.ApproachKt;
            yield return Turn("base-turn", turnDeg, 3) with
            {
                VerticalSpeedFpm = -450,
                AltitudeFt = altitudeFt -= 300,
            };
            yield return ClimbTo("base", altitudeFt - 150, 450);
            yield return Turn("final-turn", turnDeg, 3) with
            {
                VerticalSpeedFpm = -450,
                AltitudeFt = altitudeFt -= 150,
            };
            yield return ClimbTo("final", fieldFt + 60, 450);
        }
    }

    /// <summary>Turns on the spot to wait.</summary>
    private IEnumerable<Leg> Orbits()
    {
        airspeedKt = random.Between(type.ApproachKt, type.CruiseKt);
        var side = random.Sign();
        for (var i = random.Next(1, 5); i > 0; i--)
            yield return Turn("orbit", 360 * side, random.Happens(0.7) ? 3 : 4);
        yield return Straight("onward", random.Between(10, 60));
    }

    /// <summary>Some minutes in which one airspeed is held, level, climbing or descending, with turns of any size.</summary>
    private IEnumerable<Leg> Handling(Func<double> nowS)
    {
        (double Kt, double Fpm)[] phases =
        [
            (type.ClimbKt, type.ClimbFpm),
            (type.CruiseKt, 0),
            (1.05 * type.CruiseKt, 0),
            (0.85 * type.CruiseKt, 0),
            (type.SlowKt, 0),
            (type.ApproachKt, -400),
            (1.08 * type.CruiseKt, -type.DescentFpm),
        ];
        var (kt, fpm) = random.One(phases);
        airspeedKt = kt + (2 * random.Gaussian());
        var untilS = nowS() + random.Between(60, 300);
        while (nowS() < untilS)
        {
            var aimFt = altitudeFt + (fpm * random.Between(0.3, 1.8));
            if (fpm != 0 && aimFt > fieldFt + 800 && aimFt < fieldFt + 5500)
                yield return ClimbTo("handling-climb", aimFt, Math.Abs(fpm));
            else
                yield return Straight("handling", random.Between(20, 110));
            if (random.Happens(0.7))
            {
                var turnDeg = random.Happens(0.2) ? 360 : random.Between(30, 180);
                yield return Turn("handling-turn", random.Sign() * turnDeg, random.Happens(0.2) ? 6 : 3);
            }
        }
    }

    private IEnumerable<Leg> Exercise()
    {
        var side = random.Sign();
        airspeedKt = type.CruiseKt;
        switch (random.Next(8))
        {
            case 0:
                yield return Turn("clearing-turn", 90 * side, 3.5);
                yield return Straight("straight", random.Between(8, 18));
                yield return Turn("clearing-turn", -90 * side, 3.5);
                break;
            case 1:
                yield return Turn("steep-turn", 360 * side, Math.Min(8, 760 / type.CruiseKt));
                break;
            case 2:
                yield return Turn("rate-one-360", 360 * side, 3);
                break;
            case 3:
                yield return Turn("rate-one-turn", random.One([90, 120, 180]) * side, 3);
                break;
            case 4:
                airspeedKt = type.SlowKt;
                yield return Straight("slow-flight", random.Between(50, 80));
                break;
            case 5:
                airspeedKt = 0.9 * type.CruiseKt;
                yield return ClimbTo("climb", altitudeFt + random.One([300, 400, 500, 700]), 500);
                yield return Straight("straight", random.Between(20, 40));
                yield return ClimbTo("descent", altitudeFt - random.One([300, 400, 500]), 500);
                break;
            case 6:
                yield return Straight("transit", random.Between(60, 120));
                break;
            default:
                yield return Turn("turn", random.Between(20, 80) * side, 3);
                break;
        }

        airspeedKt = type.CruiseKt;
        yield return Straight("straight", random.Between(10, 40));
    }

    private Leg Turn(string name, double turnDeg, double rateDegPerS) =>
        Straight(name, 0) with
        {
            HeadingDeg = headingDeg += turnDeg,
            TurnRateDegPerS = Math.CopySign(rateDegPerS, turnDeg),
        };

    private Leg Straight(string name, double durationS) =>
        new()
        {
            Name = name,
            HeadingDeg = headingDeg,
            AltitudeFt = altitudeFt,
            DurationS = durationS,
            Airspeed = (airspeedKt, airspeedKt),
        };

    private Leg ClimbTo(string name, double toFt, double fpm)
    {
        var up = Math.Sign(toFt - altitudeFt);
        altitudeFt = toFt;
        return Straight(name, 0) with { VerticalSpeedFpm = up * fpm };
    }
}
