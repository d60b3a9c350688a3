using SchoolDrills.Accuracy.Flown;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>
/// A flight of maneuvers and drills that a test chooses, flown by instruments by a simulated pilot: what he began when is known from his
/// own decisions.
/// </summary>
internal sealed class Lesson
{
    private const double CruiseKt = 95,
        StandardRateDegPerS = 3,
        FineS = 0.2;

    private readonly Random random;
    private readonly double skill;
    private readonly Day day;
    private readonly Aeroplane plane;
    private readonly Pilot pilot;
    private readonly List<(
        double TimeS,
        double EastM,
        double NorthM,
        double MslFt,
        double AltitudeFt,
        double AirspeedKt,
        double HeadingDeg
    )> moments = [];
    private double headingDeg,
        altitudeFt;

    /// <param name="seed">Of the day, the pilot and the recorder.</param>
    /// <param name="skill">The pilot's, 0 to 1.</param>
    /// <param name="turbulence">As <see cref="Day.Turbulence"/> has it.</param>
    /// <param name="headingDeg">To begin on, degrees magnetic.</param>
    /// <param name="altitudeFt">To begin at, feet; at least 1,500 above the field.</param>
    public Lesson(int seed, double skill = 0.8, int turbulence = 0, double headingDeg = 360, double altitudeFt = 4000)
    {
        random = new Random(seed);
        this.skill = skill;
        day = Enumerable.Range(0, 1000).Select(_ => new Day(random)).First(d => d.Turbulence == turbulence);
        plane = new Aeroplane(day, AeroplaneType.All[1], random)
        {
            HeadingDeg = headingDeg,
            AltitudeFt = altitudeFt,
            SteadyKt = CruiseKt,
        };
        var asTaught = new PilotHabits(
            OneClock: true,
            ReactionShare: 1,
            CorrectionStyle.All[0],
            Fixates: false,
            Tunnels: false,
            Instrument.Heading
        );
        pilot = new Pilot(random, plane, asTaught, skill);
        (this.headingDeg, this.altitudeFt) = (headingDeg, altitudeFt);
        Straight(20);
    }

    /// <summary>Every leg of every drill in the order flown.</summary>
    public List<LegFlown> Drilled { get; } = [];

    public double NowS { get; private set; }

    public Lesson Straight(double seconds, double airspeedKt = CruiseKt) =>
        Fly(
            new Leg
            {
                HeadingDeg = headingDeg,
                AltitudeFt = altitudeFt,
                DurationS = seconds,
                Airspeed = (airspeedKt, airspeedKt),
            }
        );

    public Lesson Turn(double degrees, double rateDegPerS = StandardRateDegPerS, double climbFt = 0) =>
        Fly(
            new Leg
            {
                HeadingDeg = headingDeg += degrees,
                TurnRateDegPerS = Math.CopySign(rateDegPerS, degrees),
                AltitudeFt = altitudeFt += climbFt,
                VerticalSpeedFpm = Math.Sign(climbFt) * 500,
                Airspeed = (CruiseKt, CruiseKt),
            }
        );

    public Lesson Climb(double feet) =>
        Fly(
            new Leg
            {
                HeadingDeg = headingDeg,
                AltitudeFt = altitudeFt += feet,
                VerticalSpeedFpm = Math.Sign(feet) * 500,
                Airspeed = (CruiseKt, CruiseKt),
            }
        );

    /// <summary>Climb, turns and straights of a transit for some minutes.</summary>
    public Lesson Transit() => Straight(70).Turn(55).Straight(40).Climb(300).Straight(50).Turn(-130).Straight(60).Climb(-300).Straight(45);

    /// <summary>Home and down to the downwind.</summary>
    public Lesson Home() => Straight(30).Turn(-120).Straight(90).Climb(-1200).Straight(20).Turn(70).Straight(60);

    /// <summary>A drill of the catalogue, or some of its segments, from the heading and altitude at hand.</summary>
    /// <param name="slug">Which.</param>
    /// <param name="mistakes">Errors made on purpose.</param>
    /// <param name="mirrored">To the other hand.</param>
    /// <param name="first">First segment flown.</param>
    /// <param name="count">How many are flown.</param>
    public Lesson Drill(string slug, Mistake[]? mistakes = null, bool mirrored = false, int first = 0, int count = int.MaxValue)
    {
        var template = Scored.Drill(slug);
        var whole = DrillTimeline.Resolve(
            template,
            template.Entry with
            {
                HeadingMagDeg = Angles.NormalizeDeg(headingDeg),
                AltitudeFt = altitudeFt,
                Mirrored = mirrored,
            }
        );
        var clockZeroS = NowS - whole.Segments[first].StartS;
        var (turnDeg, climbFt) = (
            headingDeg - whole.Segments[first].StartHeadingMagDeg,
            altitudeFt - whole.Segments[first].StartAltitudeFt
        );
        foreach (var leg in DrillLegs.Of(whole, mistakes ?? [], random, oneClock: skill > 0.2))
        {
            if (leg.Segment < first || leg.Segment - first >= count)
                continue;
            Fly(
                leg with
                {
                    HeadingDeg = leg.HeadingDeg + turnDeg,
                    AltitudeFt = leg.AltitudeFt + climbFt,
                    ClockEndS = clockZeroS + leg.ClockEndS,
                }
            );
            Drilled.Add(pilot.Flown);
        }

        (headingDeg, altitudeFt) = (pilot.Left.HeadingDeg, pilot.Left.AltitudeFt);
        return this;
    }

    /// <summary>
    /// The recording five times a second: satellites wander by 2 m an axis and 4 m in height over a minute, with 1 m white in height;
    /// an air data computer writes altitude, airspeed and heading to a foot, a tenth of a knot and of a degree.
    /// </summary>
    /// <param name="altimeter">With the altimeter's reading.</param>
    /// <param name="airspeed">With indicated airspeed.</param>
    /// <param name="heading">With magnetic heading.</param>
    public Track RecordFine(bool altimeter = false, bool airspeed = false, bool heading = false)
    {
        var noise = new Random(1);
        Wander east = new(noise, 2, 60),
            north = new(noise, 2, 60),
            up = new(noise, 4, 60);
        var frame = new LocalFrame(day.LatDeg, day.LonDeg, 0);
        var at = moments.Where((_, i) => i % 2 == 0).ToArray();
        var places = Array.ConvertAll(at, m => frame.ToGeodetic(m.EastM + east.Step(FineS), m.NorthM + north.Step(FineS), 0));
        return new Track
        {
            Format = "gpx",
            EpochUtc = day.StartUtc,
            TimeS = Array.ConvertAll(at, m => m.TimeS),
            LatDeg = Array.ConvertAll(places, p => Math.Round(p.LatDeg, 7)),
            LonDeg = Array.ConvertAll(places, p => Math.Round(p.LonDeg, 7)),
            GpsAltitudeFt = Array.ConvertAll(at, m => m.MslFt + Units.MToFt(up.Step(FineS) + noise.Gaussian())),
            IndicatedAltitudeFt = altimeter ? Array.ConvertAll(at, m => Math.Round(m.AltitudeFt)) : null,
            IndicatedAirspeedKt = airspeed ? Array.ConvertAll(at, m => Math.Round(m.AirspeedKt + (0.4 * noise.Gaussian()), 1)) : null,
            HeadingMagDeg = heading
                ? Array.ConvertAll(at, m => Math.Round(Angles.NormalizeDeg(m.HeadingDeg + (0.4 * noise.Gaussian())), 1))
                : null,
        };
    }

    /// <summary>Positions and heights once a second.</summary>
    public Track Satellites() => RecordFine().Every(1);

    /// <summary>The same with altimeter, airspeed and heading.</summary>
    public Track AirData() => RecordFine(altimeter: true, airspeed: true, heading: true).Every(1);

    /// <summary>The report of a recording of the lesson, satellites' unless another is given.</summary>
    public ScoreReport Report(string slug, Track? track = null, ScoringOptions? options = null) =>
        Scored.Report(track ?? Satellites(), slug, options);

    /// <summary>When a moment of the lesson was, in the report's time.</summary>
    public DateTimeOffset Utc(double timeS) => day.StartUtc.AddSeconds(timeS);

    /// <summary>
    /// The drill was found with every leg that was flown, half of them told within one time of when they were begun and all within
    /// another. Nothing marks the start of a straight that opens a drill, so it does not count.
    /// </summary>
    /// <param name="report">What was told.</param>
    /// <param name="worstS">How far off the worst may be, seconds.</param>
    /// <param name="from">The first leg of the drill among those flown.</param>
    /// <param name="halfS">How far off half of them may be, seconds.</param>
    public void AssertToldAsFlown(ScoreReport report, double worstS, int from = 0, double halfS = 2)
    {
        Assert.True(report.Found, $"confidence {report.Confidence:0.00}");
        var off = Drilled
            .Skip(from)
            .Where(l => l.Leg.Segment > 0)
            .Select(l =>
                (l.Leg.Segment, LateS: (report.Segments[l.Leg.Segment].StartUtc - Utc(l.StartS))?.TotalSeconds ?? double.PositiveInfinity)
            )
            .OrderBy(o => Math.Abs(o.LateS))
            .ToArray();
        var told = string.Join(", ", off.Select(o => $"segment {o.Segment} {o.LateS:0.0} s late"));
        Assert.True(Math.Abs(off[off.Length / 2].LateS) <= halfS && Math.Abs(off[^1].LateS) <= worstS, told);
    }

    private Lesson Fly(Leg leg)
    {
        pilot.Begin(leg, NowS);
        var endS = double.IsFinite(leg.ClockEndS) ? leg.ClockEndS : NowS + leg.DurationS;
        pilot.StraightEndS = Math.Max(endS + (leg.Segment < 0 ? 0 : pilot.ClockSlop()), NowS + (Pilot.LeastShare * leg.DurationS));
        pilot.StraightEndS += leg.ExtraS;
        while (!Step())
            continue;
        var actsS = NowS + pilot.Reaction();
        while (NowS < actsS)
            Step();
        pilot.Flown.EndS = NowS;
        return this;
    }

    private bool Step()
    {
        var done = pilot.Step(NowS, FlownFlight.StepS);
        moments.Add(
            new(NowS, plane.EastM, plane.NorthM, day.MslFt(plane.AltitudeFt), plane.AltitudeFt, plane.AirspeedKt, plane.HeadingDeg)
        );
        NowS = Math.Round(NowS + FlownFlight.StepS, 1);
        return done;
    }
}
