using SchoolDrills.Engine.Drills;

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
);

/// <summary>
/// A flight flown by program, the same for the same seed: which drill, which hand, what day, how skilled a pilot, which errors on purpose
/// are drawn from it. What happened is known from the pilot's own decisions.
/// </summary>
internal sealed class FlownFlight
{
    public const double StepS = 0.1;

    private const double LongestLegS = 1200;
    private const int Anew = 1_000_000;

    /// <summary>Drills that make up half of the flights.</summary>
    private static readonly string[] Often = ["box-circles", "vertical-s-turning", "racetrack", "timed-turns"];

    private readonly Random random;
    private readonly Aeroplane plane;
    private readonly Pilot pilot;
    private double nowS;

    private FlownFlight(int seed)
    {
        Seed = seed;
        random = new Random(seed);
        Day = new Day(random);
        Skill = random.Between(0.05, 1);
        WholeFlight = random.Happens(0.6);
        plane = new Aeroplane(Day, random);
        pilot = new Pilot(random, plane, Skill);
        if (random.Happens(0.07))
            return;

        var often = random.One(Often);
        var asked = random.Happens(0.5) ? Catalogue.Templates.Single(t => t.Slug == often) : random.One(Catalogue.Templates);
        var mirrored = random.Happens(0.2);
        Template = asked with { Entry = asked.Entry with { Mirrored = mirrored } };
        var entry = Template.Entry with
        {
            HeadingMagDeg = 10 * random.Next(1, 37),
            AltitudeFt =
                Math.Max(asked.Entry.AltitudeFt, (Math.Ceiling(Day.FieldIndicatedFt / 100) * 100) + 1500) + (100 * random.Next(-3, 12)),
        };
        Timeline = DrillTimeline.Resolve(Template, entry);
        Mistakes = Mistake.Draw(random, Timeline);
        // Giving up shows only in what is flown afterwards.
        WholeFlight |= Mistakes.Any(m => m.Kind == "abort");
    }

    public int Seed { get; }

    public Day Day { get; }

    public double Skill { get; }

    public bool WholeFlight { get; }

    /// <summary>The drill in the hand asked, null for general handling without one.</summary>
    public DrillTemplate? Template { get; }

    public DrillTimeline? Timeline { get; }

    public IReadOnlyList<Mistake> Mistakes { get; } = [];

    public List<Moment> Moments { get; } = [];

    /// <summary>The drill's legs in the order flown.</summary>
    public List<LegFlown> Legs { get; } = [];

    public double ClockZeroS { get; private set; }

    public IReadOnlyList<Load> Loads { get; private set; } = [];

    private bool isLost;

    /// <summary>Flies the flight of a seed; one in hundreds misses the end of a turn and circles for ever, and is drawn anew.</summary>
    public static FlownFlight Fly(int seed)
    {
        var flight = new FlownFlight(seed);
        flight.Fly();
        return flight.isLost ? Fly(seed + Anew) : flight;
    }

    private void Fly()
    {
        var free = new FreeFlight(random);
        if (Timeline is null)
        {
            TakeOff();
            FlyLegs(
                free.Before(
                    Day.FieldIndicatedFt,
                    plane.HeadingDeg,
                    (10 * random.Next(1, 37), Day.FieldIndicatedFt + random.Between(1800, 3500), 90),
                    random.Next(4, 9)
                )
            );
            FlyLegs(free.After(Day.FieldIndicatedFt, pilot.Flown.Leg.HeadingDeg, pilot.Flown.Leg.AltitudeFt));
            return;
        }

        var first = Timeline.Segments[0];
        if (WholeFlight)
        {
            TakeOff();
            FlyLegs(
                free.Before(
                    Day.FieldIndicatedFt,
                    plane.HeadingDeg,
                    (first.StartHeadingMagDeg, first.StartAltitudeFt, first.StartAirspeedKt),
                    random.Next(0, 4)
                )
            );
        }
        else
        {
            (plane.HeadingDeg, plane.AltitudeFt, plane.SteadyKt) = (first.StartHeadingMagDeg, first.StartAltitudeFt, first.StartAirspeedKt);
            FlyLegs([
                new Leg
                {
                    Name = "settle",
                    HeadingDeg = first.StartHeadingMagDeg,
                    AltitudeFt = first.StartAltitudeFt,
                    Airspeed = (first.StartAirspeedKt, first.StartAirspeedKt),
                    DurationS = 3,
                },
            ]);
        }

        ClockZeroS = nowS - random.Between(0.1, 0.5);
        Loads = DrawLoads();
        // Headings count on from where the flight before has brought them.
        var turnsDeg = Math.Round((plane.HeadingDeg - first.StartHeadingMagDeg) / 360) * 360;
        foreach (var leg in DrillLegs.Of(Timeline, Mistakes, random, oneClock: Skill > 0.2))
        {
            FlyLegs([leg with { HeadingDeg = leg.HeadingDeg + turnsDeg }]);
            Legs.Add(pilot.Flown);
        }

        var last = pilot.Flown.Leg;
        FlyLegs(
            WholeFlight
                ? free.After(Day.FieldIndicatedFt, last.HeadingDeg, last.AltitudeFt)
                : free.StraightOn(last.HeadingDeg, last.AltitudeFt, last.Airspeed.ToKt)
        );
    }

    private List<Load> DrawLoads()
    {
        var loads = new List<Load>();
        var durationS = Timeline!.DurationS;
        if (random.Happens(0.35))
            loads.Add(new(nowS + (random.Between(0.15, 0.4) * durationS), 0, 1.6, 0.4));
        if (random.Happens(0.12))
            loads.Add(new(nowS + (random.Between(0.45, 0.7) * durationS), 0, 3, 0.45));
        return loads.ConvertAll(t => t with { UntilS = t.FromS + (t.Saturates ? 75 : 22) });
    }

    private void TakeOff()
    {
        plane.HeadingDeg = 10 * random.Next(1, 37);
        for (var stillS = 12.0; stillS > 0; stillS -= StepS)
            Taxi(0);
        for (var kt = 0.0; kt < 62; kt += 3 * StepS)
            Taxi(kt);

        void Taxi(double kt)
        {
            plane.Taxi(StepS, kt);
            Note();
        }
    }

    private void FlyLegs(IEnumerable<Leg> legs)
    {
        foreach (var leg in legs)
        {
            pilot.Begin(leg, nowS);
            var endS = double.IsFinite(leg.ClockEndS) ? ClockZeroS + leg.ClockEndS : nowS + leg.DurationS;
            pilot.StraightEndS =
                leg.Segment < 0 ? endS : Math.Max(endS + pilot.ClockSlop(), nowS + (Pilot.LeastShare * leg.DurationS)) + leg.ExtraS;
            var longestS = nowS + LongestLegS;
            while (!Step() && !isLost)
                isLost = nowS > longestS;

            var actsS = nowS + pilot.Reaction();
            while (nowS < actsS)
                Step();

            pilot.Flown.EndS = nowS;
        }
    }

    private bool Step()
    {
        pilot.Load = Loads.FirstOrDefault(t => nowS >= t.FromS && nowS < t.UntilS);
        var done = pilot.Step(nowS, StepS);
        Note();
        return done;
    }

    private void Note()
    {
        Moments.Add(
            new(
                nowS,
                plane.EastM,
                plane.NorthM,
                plane.AltitudeFt,
                Day.MslFt(plane.AltitudeFt),
                plane.AirspeedKt,
                plane.TrueAirspeedKt,
                plane.HeadingDeg,
                plane.BankDeg,
                plane.PitchDeg,
                plane.VerticalSpeedFpm,
                plane.TurnRateDegPerS,
                plane.GroundEastKt,
                plane.GroundNorthKt
            )
        );
        nowS = Math.Round(nowS + StepS, 1);
    }
}
