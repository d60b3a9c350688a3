using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>
/// A flight flown by program, the same for the same seed: which drill, which hand, what aeroplane, what day, how skilled a pilot, which
/// errors on purpose are drawn from it (<see cref="Population"/>). What happened is known from the pilot's own decisions.
/// </summary>
internal sealed partial class FlownFlight
{
    public const double StepS = 0.1;

    private const double LongestLegS = 1200;
    private const int Anew = 1_000_000;

    /// <summary>Drills that schools fly most.</summary>
    private static readonly string[] Often = ["box-circles", "vertical-s-turning", "racetrack", "timed-turns"];

    private readonly Random random;
    private readonly Aeroplane plane;
    private readonly Pilot pilot;
    private readonly FreeFlight free;
    private double nowS,
        clockZeroS;

    private FlownFlight(int seed, bool withoutDrill)
    {
        Seed = seed;
        random = new Random(seed);
        Day = new Day(random);
        Type = AeroplaneType.Draw(random);
        Skill = random.Between(0.05, 1);
        Habits = PilotHabits.Draw(random);
        WholeFlight = random.Happens(Population.WholeFlight);
        plane = new Aeroplane(Day, Type, random);
        pilot = new Pilot(random, plane, Habits, Skill);
        free = new FreeFlight(random, Type, Day.FieldIndicatedFt);
        if (random.Happens(Population.NoDrill) || withoutDrill)
            return;

        var often = random.One(Often);
        var asked = random.Happens(Population.OftenFlown)
            ? Catalogue.Templates.Single(t => t.Slug == often)
            : random.One(Catalogue.Templates);
        Template = asked with
        {
            Entry = asked.Entry with
            {
                Mirrored = random.Happens(Population.Mirrored),
                AirspeedKt = asked.Entry.AirspeedKt + Type.DrillKt - AeroplaneType.CatalogueKt,
            },
        };
        Timeline = Resolve(Template);
        Mistakes = Mistake.Draw(random, Timeline);
        Incidents = Incidents.Draw(random, Template, Timeline, Mistakes);
        // Giving up shows only in what is flown afterwards.
        WholeFlight |= Mistakes.Any(m => m.Kind == "abort") || Incidents.NeedsWholeFlight;
    }

    public int Seed { get; }

    public Day Day { get; }

    public AeroplaneType Type { get; }

    public double Skill { get; }

    public PilotHabits Habits { get; }

    public bool WholeFlight { get; }

    /// <summary>The drill in the hand asked, null for general handling without one.</summary>
    public DrillTemplate? Template { get; }

    public DrillTimeline? Timeline { get; }

    public IReadOnlyList<Mistake> Mistakes { get; } = [];

    public Incidents Incidents { get; } = Incidents.None;

    public List<Moment> Moments { get; } = [];

    /// <summary>The drill's legs in the order flown.</summary>
    public List<LegFlown> Legs { get; private set; } = [];

    /// <summary>Everything else that was flown, in order.</summary>
    public List<LegFlown> OtherLegs { get; } = [];

    /// <summary>When the drill's clock was started, seconds of the flight.</summary>
    public double ClockZeroS { get; private set; }

    public IReadOnlyList<Load> Loads { get; private set; } = [];

    private bool isLost;

    /// <summary>Flies the flight of a seed; one in hundreds misses the end of a turn and circles for ever, and is drawn anew.</summary>
    public static FlownFlight Fly(int seed) => Fly(seed, withoutDrill: false);

    /// <summary>Flies an hour or more of general handling without a drill.</summary>
    public static FlownFlight WithoutDrill(int seed) => Fly(seed, withoutDrill: true);

    /// <summary>The flight of a seed as drawn, not yet flown.</summary>
    public static FlownFlight Drawn(int seed) => new(seed, withoutDrill: false);

    private static FlownFlight Fly(int seed, bool withoutDrill)
    {
        var flight = new FlownFlight(seed, withoutDrill);
        flight.Fly();
        return flight.isLost ? Fly(seed + Anew, withoutDrill) : flight;
    }

    private DrillTimeline Resolve(DrillTemplate template)
    {
        var lowestFt = (Math.Ceiling(Day.FieldIndicatedFt / 100) * 100) + 1500;
        return DrillTimeline.Resolve(
            template,
            template.Entry with
            {
                HeadingMagDeg = 10 * random.Next(1, 37),
                AltitudeFt = Math.Max(template.Entry.AltitudeFt, lowestFt) + (100 * random.Next(-3, 12)),
            }
        );
    }

    private void Fly()
    {
        if (Timeline is null)
        {
            TakeOff(random.Between(120, 300));
            FlyLegs(free.WithoutDrill(plane.HeadingDeg, () => nowS));
            return;
        }

        var entry = Entry(Timeline);
        var other = Incidents.Other is { } template ? Resolve(template) : null;
        var before = Incidents.OtherFirst ? other : null;
        if (WholeFlight)
        {
            TakeOff(random.Between(20, 150));
            FlyLegs(free.Before(plane.HeadingDeg, before is null ? entry : Entry(before), random.Next(0, 4)));
        }
        else
        {
            (plane.HeadingDeg, plane.AltitudeFt, plane.SteadyKt) = entry;
            FlyLegs(free.Settle(entry, 3));
        }

        if (before is not null)
        {
            FlyDrill(before, [], Incidents.None);
            FlyLegs(free.AwayAndBack(pilot.Left, entry));
        }

        if (Incidents.BegunAgainAfter >= 0)
        {
            FlyDrill(Timeline, [], Incidents.None, Incidents.BegunAgainAfter);
            FlyLegs(free.AwayAndBack(pilot.Left, entry));
        }

        Loads = Load.Draw(random, nowS, Timeline.DurationS);
        Legs = FlyDrill(Timeline, Mistakes, Incidents);
        ClockZeroS = Legs[0].ClockZeroS;
        if (other is not null && before is null)
        {
            FlyLegs(free.AwayAndBack(pilot.Left, Entry(other)));
            FlyDrill(other, [], Incidents.None);
        }

        FlyLegs(WholeFlight ? free.After(pilot.Left) : free.StraightOn(pilot.Left));
    }

    private static Entry Entry(DrillTimeline timeline) =>
        new(timeline.Segments[0].StartHeadingMagDeg, timeline.Segments[0].StartAltitudeFt, timeline.Segments[0].StartAirspeedKt);

    /// <summary>Flies a drill from its entry, up to a segment if need be.</summary>
    private List<LegFlown> FlyDrill(
        DrillTimeline timeline,
        IReadOnlyList<Mistake> mistakes,
        Incidents incidents,
        int lastSegment = int.MaxValue
    )
    {
        clockZeroS = nowS - random.Between(0.1, 0.5);
        List<LegFlown> flown = [];
        var start = Entry(timeline);
        var turnsDeg = WholeTurnsDeg(start.HeadingDeg);
        foreach (var leg in DrillLegs.Of(timeline, mistakes, random, Habits.OneClock).TakeWhile(l => l.Segment <= lastSegment))
        {
            FlyOne(leg);
            var end = new Entry(leg.HeadingDeg, leg.AltitudeFt, leg.Airspeed.ToKt);
            if (incidents.AgainAfter == leg.Segment)
            {
                GoBack(start, pilot.Flown.StartS);
                FlyOne(leg);
            }

            if (incidents.PauseAfter == leg.Segment)
                GoBack(end, nowS);
            start = end;
        }

        return flown;

        void FlyOne(Leg leg)
        {
            FlyLeg(leg with { HeadingDeg = leg.HeadingDeg + turnsDeg });
            flown.Add(pilot.Flown);
        }

        // The clock stands still meanwhile.
        void GoBack(Entry to, double fromS)
        {
            FlyLegs(free.AwayAndBack(pilot.Left, to));
            clockZeroS += nowS - fromS;
            turnsDeg = WholeTurnsDeg(to.HeadingDeg);
        }
    }

    /// <summary>Headings count on from where the flight before has brought them.</summary>
    private double WholeTurnsDeg(double headingDeg) => Math.Round((plane.HeadingDeg - headingDeg) / 360) * 360;

    /// <summary>From the parking place over the taxiways into the air.</summary>
    private void TakeOff(double taxiS)
    {
        plane.HeadingDeg = 10 * random.Next(1, 37);
        Roll(12, _ => 0);
        for (var endS = nowS + taxiS; nowS < endS; )
        {
            var kt = random.Between(5, 15);
            Roll(random.Between(10, 40), _ => kt);
            plane.HeadingDeg += 90 * random.Sign();
        }

        var liftOffKt = Type.ClimbKt - 14;
        Roll(random.Between(10, 40), _ => 0);
        Roll(liftOffKt / 3, rolledS => 3 * rolledS);

        void Roll(double lengthS, Func<double, double> kt)
        {
            for (var rolledS = 0.0; rolledS < lengthS; rolledS += StepS)
            {
                plane.Taxi(StepS, kt(rolledS));
                Note();
            }
        }
    }

    private void FlyLegs(IEnumerable<Leg> legs)
    {
        foreach (var leg in legs)
        {
            FlyLeg(leg);
            OtherLegs.Add(pilot.Flown);
        }
    }

    private void FlyLeg(Leg leg)
    {
        pilot.Begin(leg, nowS);
        pilot.Flown.ClockZeroS = clockZeroS;
        var endS = double.IsFinite(leg.ClockEndS) ? clockZeroS + leg.ClockEndS : nowS + leg.DurationS;
        pilot.StraightEndS =
            leg.Segment < 0 ? endS : Math.Max(endS + pilot.ClockSlop(), nowS + (Pilot.LeastShare * leg.DurationS)) + leg.ExtraS;
        var longestS = nowS + LongestLegS;
        while (!isLost && !Step())
            isLost = nowS > longestS;

        var actsS = nowS + pilot.Reaction();
        while (nowS < actsS)
            Step();

        pilot.Flown.EndS = nowS;
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
        Moments.Add(Moment.Of(plane, Day, nowS));
        nowS = Math.Round(nowS + StepS, 1);
    }
}
