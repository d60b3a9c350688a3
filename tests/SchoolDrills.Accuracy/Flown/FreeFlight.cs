using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>
/// General handling before and after a drill, or instead of one: climb-out, transit, turns, climbs, slow flight, the way home.
/// </summary>
internal sealed class FreeFlight(Random random)
{
    private const double CruiseKt = 95,
        ClimbKt = 78;

    private double headingDeg,
        altitudeFt;

    /// <summary>From the runway to the drill's entry.</summary>
    /// <param name="fieldFt">Altimeter reading on the field, feet.</param>
    /// <param name="runwayDeg">Runway heading, degrees magnetic.</param>
    /// <param name="entry">Heading, altitude and airspeed to settle on.</param>
    /// <param name="exercises">How many to fly on the way.</param>
    public IEnumerable<Leg> Before(
        double fieldFt,
        double runwayDeg,
        (double HeadingDeg, double AltitudeFt, double AirspeedKt) entry,
        int exercises
    )
    {
        (headingDeg, altitudeFt) = (runwayDeg, fieldFt);
        yield return ClimbTo("climb-out", fieldFt + random.Between(500, 900), 650, ClimbKt);
        yield return Turn("climbing-turn", random.Sign() * random.Between(60, 140), 2.6, ClimbKt) with
        {
            VerticalSpeedFpm = 500,
            AltitudeFt = altitudeFt += 400,
        };
        // An exercise may climb; the drill begins at its own altitude all the same.
        yield return ClimbTo("climb", Math.Max(altitudeFt + 200, entry.AltitudeFt), 600, ClimbKt);
        yield return Straight("transit", random.Between(60, 150));
        for (var i = 0; i < exercises; i++)
        {
            foreach (var leg in Exercise())
                yield return leg;
        }

        if (Math.Abs(altitudeFt - entry.AltitudeFt) > 1)
            yield return ClimbTo("to the drill's altitude", entry.AltitudeFt, 500, CruiseKt);
        yield return Turn("turn-to-entry-heading", Angles.DifferenceDeg(entry.HeadingDeg, headingDeg), 3, CruiseKt);
        yield return Straight("settle", random.Between(30, 60)) with
        {
            Airspeed = (entry.AirspeedKt, entry.AirspeedKt),
        };
    }

    /// <summary>Home.</summary>
    public IEnumerable<Leg> After(double fieldFt, double fromHeadingDeg, double fromAltitudeFt)
    {
        (headingDeg, altitudeFt) = (fromHeadingDeg, fromAltitudeFt);
        yield return Straight("after-straight", random.Between(20, 45));
        yield return Turn("turn-home", random.Sign() * random.Between(60, 170), 3, CruiseKt);
        yield return Straight("transit-home", random.Between(60, 120));
        yield return ClimbTo("descent", fieldFt + 1000, 600, 100);
        yield return Turn("join", random.Sign() * random.Between(50, 90), 3, CruiseKt);
        yield return Straight("downwind", random.Between(30, 60));
        yield return ClimbTo("approach-descent", fieldFt + 250, 450, 70);
    }

    /// <summary>Straight on for some seconds at the end of a recording of the drill alone.</summary>
    public IEnumerable<Leg> StraightOn(double fromHeadingDeg, double fromAltitudeFt, double airspeedKt)
    {
        (headingDeg, altitudeFt) = (fromHeadingDeg, fromAltitudeFt);
        yield return Straight("after-straight", 5) with
        {
            Airspeed = (airspeedKt, airspeedKt),
        };
    }

    private IEnumerable<Leg> Exercise()
    {
        var side = random.Sign();
        switch (random.Next(8))
        {
            case 0:
                yield return Turn("clearing-turn", 90 * side, 3.5, CruiseKt);
                yield return Straight("straight", random.Between(8, 18));
                yield return Turn("clearing-turn", -90 * side, 3.5, CruiseKt);
                break;
            case 1:
                yield return Turn("steep-turn", 360 * side, 8, CruiseKt);
                break;
            case 2:
                yield return Turn("rate-one-360", 360 * side, 3, CruiseKt);
                break;
            case 3:
                yield return Turn("rate-one-turn", random.One([90, 120, 180]) * side, 3, CruiseKt);
                break;
            case 4:
                yield return Straight("slow-flight", random.Between(50, 80)) with
                {
                    Airspeed = (62, 62),
                };
                break;
            case 5:
                yield return ClimbTo("climb", altitudeFt + random.One([300, 400, 500, 700]), 500, 85);
                yield return Straight("straight", random.Between(20, 40));
                yield return ClimbTo("descent", altitudeFt - random.One([300, 400, 500]), 500, CruiseKt);
                break;
            case 6:
                yield return Straight("transit", random.Between(60, 120));
                break;
            default:
                yield return Turn("turn", random.Between(20, 80) * side, 3, CruiseKt);
                break;
        }

        yield return Straight("straight", random.Between(10, 40));
    }

    private Leg Turn(string name, double turnDeg, double rateDegPerS, double airspeedKt) =>
        new()
        {
            Name = name,
            HeadingDeg = headingDeg += turnDeg,
            TurnRateDegPerS = Math.CopySign(rateDegPerS, turnDeg),
            AltitudeFt = altitudeFt,
            Airspeed = (airspeedKt, airspeedKt),
        };

    private Leg Straight(string name, double durationS) =>
        new()
        {
            Name = name,
            HeadingDeg = headingDeg,
            AltitudeFt = altitudeFt,
            DurationS = durationS,
            Airspeed = (CruiseKt, CruiseKt),
        };

    private Leg ClimbTo(string name, double toFt, double fpm, double airspeedKt)
    {
        var up = Math.Sign(toFt - altitudeFt);
        return new()
        {
            Name = name,
            HeadingDeg = headingDeg,
            AltitudeFt = altitudeFt = toFt,
            VerticalSpeedFpm = up * fpm,
            Airspeed = (airspeedKt, airspeedKt),
        };
    }
}
