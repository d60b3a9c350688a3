using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>
/// Recordings of a flown flight: positions with the errors of a <see cref="Receiver"/>, and beside the panel an air data computer that has
/// biases, wanders and white noise of its own and rounds what it writes.
/// </summary>
internal sealed class Recorder(FlownFlight flight, Random random)
{
    /// <summary>Time between dropouts, and how long they last, seconds.</summary>
    private const double BetweenDropoutsS = 400,
        ShortestDropoutS = 4,
        LongestDropoutS = 40;

    private readonly List<Moment> moments = flight.Moments;
    private readonly LocalFrame frame = new(flight.Day.LatDeg, flight.Day.LonDeg, 0);

    public static readonly string[] Formats = ["gpx", "csv"];

    /// <summary>A flight as satellites alone and as air data record it.</summary>
    public static IEnumerable<Track> Both(FlownFlight flight)
    {
        var random = new Random(flight.Seed + 100_000);
        yield return new Recorder(flight, random).Satellites();
        yield return new Recorder(flight, random).AirData();
    }

    /// <summary>Positions and heights alone.</summary>
    public Track Satellites() => Satellites(Receiver.Carried(random));

    /// <summary>The same by a receiver of one's choice.</summary>
    public Track Satellites(Receiver receiver) => Positions("gpx", receiver, out _);

    /// <summary>Air data; some with pressure altitude and a setting instead of the altimeter's reading.</summary>
    public Track AirData()
    {
        var layered = random.Happens(0.35);
        var receiver = Receiver.OfPanel(random);
        var dtS = 1 / receiver.Hz;
        var place = Positions("csv", receiver, out var at);
        Wander pressure = new(random, 3, 40),
            speed = new(random, 0.4, 20),
            heading = new(random, 0.7, 60);
        double speedBias = 0.4 * random.Gaussian(),
            rollBias = 0.4 * random.Gaussian(),
            pitchBias = 0.4 * random.Gaussian(),
            warm = 0.7 * random.Gaussian(),
            laggedFpm = moments[0].VerticalSpeedFpm;
        var n = at.Count;
        double[] indicated = new double[n],
            pressureFt = new double[n],
            ias = new double[n],
            tas = new double[n],
            mag = new double[n],
            roll = new double[n],
            pitch = new double[n];
        double[] fpm = new double[n],
            groundKt = new double[n],
            course = new double[n],
            oat = new double[n],
            setting = new double[n];
        for (var i = 0; i < n; i++)
        {
            var m = at[i];
            var shownFt = m.AltitudeFt + pressure.Step(dtS) + (1.5 * random.Gaussian());
            indicated[i] = Math.Round(shownFt);
            pressureFt[i] = Math.Round(flight.Day.PressureAltitudeFt(shownFt));
            setting[i] = flight.Day.SettingHpa;
            var kt = m.AirspeedKt + speedBias + speed.Step(dtS) + (0.3 * random.Gaussian());
            ias[i] = m.AirspeedKt < 20 ? 0 : Math.Round(kt, 1);
            tas[i] = m.AirspeedKt < 20 ? 0 : Math.Round(flight.Day.TrueAirspeedKt(kt, m.AltitudeFt), 1);
            mag[i] = Angles.NormalizeDeg(Math.Round(m.HeadingDeg + heading.Step(dtS) + (0.15 * random.Gaussian()), 1));
            roll[i] = Math.Round(m.BankDeg + rollBias + (0.2 * random.Gaussian()), 1);
            pitch[i] = Math.Round(m.PitchDeg + pitchBias + (0.15 * random.Gaussian()), 1);
            laggedFpm += (m.VerticalSpeedFpm - laggedFpm) * (1 - Math.Exp(-dtS / 2));
            fpm[i] = 10 * Math.Round((laggedFpm + (15 * random.Gaussian())) / 10);
            double east = m.GroundEastKt + (0.2 * random.Gaussian()),
                north = m.GroundNorthKt + (0.2 * random.Gaussian());
            groundKt[i] = Math.Round(Math.Sqrt((east * east) + (north * north)), 1);
            course[i] = Angles.NormalizeDeg(Math.Round(Units.RadToDeg(Math.Atan2(east, north)), 1));
            oat[i] =
                Math.Round((flight.Day.TemperatureC(flight.Day.PressureAltitudeFt(m.AltitudeFt)) + warm + (0.2 * random.Gaussian())) * 2)
                / 2;
        }

        return new Track
        {
            Format = "csv",
            EpochUtc = place.EpochUtc,
            TimeS = place.TimeS,
            LatDeg = place.LatDeg,
            LonDeg = place.LonDeg,
            GpsAltitudeFt = place.GpsAltitudeFt,
            PressureAltitudeFt = pressureFt,
            IndicatedAltitudeFt = layered ? null : indicated,
            AltimeterSettingHpa = layered ? setting : null,
            IndicatedAirspeedKt = ias,
            TrueAirspeedKt = tas,
            HeadingMagDeg = mag,
            BankDeg = roll,
            PitchDeg = pitch,
            VerticalSpeedFpm = fpm,
            GroundSpeedKt = groundKt,
            CourseTrueDeg = course,
            OutsideAirTemperatureC = oat,
        };
    }

    private Track Positions(string format, Receiver receiver, out List<Moment> at)
    {
        var dtS = 1 / receiver.Hz;
        var every = (int)Math.Round(dtS / FlownFlight.StepS);
        var late = (int)Math.Round(receiver.LateS / FlownFlight.StepS);
        at = [.. moments.Where((_, i) => i % every == 0)];
        if (receiver.DropsOut)
            at = [.. WithoutDropouts(at, dtS)];
        Wander east = new(random, receiver.HorizontalM, receiver.WanderS),
            north = new(random, receiver.HorizontalM, receiver.WanderS),
            up = new(random, receiver.VerticalM, receiver.WanderS);
        var seen = at.ConvertAll(m => moments[Math.Max(0, (int)Math.Round(m.TimeS / FlownFlight.StepS) - late)]);
        var places = seen.ConvertAll(m => frame.ToGeodetic(m.EastM + Error(east), m.NorthM + Error(north), 0));
        return new Track
        {
            Format = format,
            EpochUtc = flight.Day.StartUtc,
            TimeS = [.. at.Select(m => m.TimeS)],
            LatDeg = [.. places.Select(p => Math.Round(p.LatDeg, 7))],
            LonDeg = [.. places.Select(p => Math.Round(p.LonDeg, 7))],
            GpsAltitudeFt = [.. seen.Select(m => m.MslFt + Units.MToFt(up.Step(dtS) + (receiver.WhiteUpM * random.Gaussian())))],
        };

        double Error(Wander wander) => wander.Step(dtS) + (receiver.WhiteM * random.Gaussian());
    }

    private IEnumerable<Moment> WithoutDropouts(List<Moment> at, double dtS)
    {
        var backS = 0.0;
        foreach (var moment in at)
        {
            if (moment.TimeS < backS)
                continue;
            yield return moment;
            if (random.Happens(dtS / BetweenDropoutsS))
                backS = moment.TimeS + random.Between(ShortestDropoutS, LongestDropoutS);
        }
    }
}
