namespace SchoolDrills.Engine.Tests.Reconstruction;

/// <summary>
/// Flying as between drills: climbs, cruise, slow flight, descents and approaches, each with an airspeed of its own that lasts for
/// minutes, turns of any size in between, and now and then a long leg without a turn, in a wind that walks in time.
/// </summary>
internal sealed class WalkingWindFlight
{
    private static readonly (double Kt, double Fpm)[] Phases = [(75, 600), (100, 0), (105, 0), (85, 0), (70, -400), (110, -500)];

    private const double WalkKtPerRootHour = 4,
        LongestLegMinutes = 30;

    private readonly Random random;
    private readonly double eastKt,
        northKt,
        eastPerKft,
        northPerKft;
    private double strayKt,
        strayRate,
        levelKt = 75,
        atS;
    private readonly (double EastKt, double NorthKt, double EastPerKft, double NorthPerKft)[] walk;

    /// <param name="seed">Seed of all chances.</param>
    /// <param name="minutes">How long to fly.</param>
    public WalkingWindFlight(int seed, double minutes)
    {
        random = new Random(seed);
        walk = WalkByMinute(new Random(-seed), (int)minutes + 60);
        (eastKt, northKt) = (12 * SyntheticFlight.Gaussian(random), 12 * SyntheticFlight.Gaussian(random));
        (eastPerKft, northPerKft) = (2 * SyntheticFlight.Gaussian(random), 2 * SyntheticFlight.Gaussian(random));
        Flight = new SyntheticFlight(altitudeFt => WindAt(Flight!.NowS, altitudeFt), headingDeg: 360 * random.NextDouble());
        var phase = 0;
        while (Flight.NowS < 60 * minutes)
        {
            var (kt, fpm) = Phases[phase];
            var aimKt = kt + (2 * SyntheticFlight.Gaussian(random));
            var untilS = Flight.NowS + 60 + (240 * random.NextDouble());
            while (Flight.NowS < untilS)
            {
                Flight.Fly(20 + (90 * random.NextDouble()), 0, fpm, t => AirspeedKt(t, aimKt));
                if (random.NextDouble() < 0.2)
                    Flight.Fly(60 * LongestLegMinutes * random.NextDouble(), 0, 0, t => AirspeedKt(t, aimKt));
                if (random.NextDouble() < 0.7)
                {
                    var degrees =
                        (random.NextDouble() < 0.5 ? -1 : 1) * (random.NextDouble() < 0.2 ? 360 : 30 + (150 * random.NextDouble()));
                    var rate = random.NextDouble() < 0.2 ? 6 : 3;
                    Turns.Add((Flight.NowS, Flight.NowS + (Math.Abs(degrees) / rate)));
                    Flight.Fly(Math.Abs(degrees) / rate, Math.Sign(degrees) * rate, fpm, t => AirspeedKt(t, aimKt));
                }
            }

            phase = random.Next(Phases.Length);
        }
    }

    public SyntheticFlight Flight { get; }

    /// <summary>From and to, seconds.</summary>
    public List<(double FromS, double ToS)> Turns { get; } = [];

    /// <summary>Motion of the air, knots toward east and north.</summary>
    public (double EastKt, double NorthKt) WindAt(double timeS, double altitudeFt)
    {
        var kft = (altitudeFt - 3000) / 1000;
        var walked = walk[Math.Min((int)(timeS / 60), walk.Length - 1)];
        return (
            eastKt + ((eastPerKft + walked.EastPerKft) * kft) + walked.EastKt,
            northKt + ((northPerKft + walked.NorthPerKft) * kft) + walked.NorthKt
        );
    }

    /// <summary>A random walk of the wind, and of a quarter of it for each thousand feet.</summary>
    private static (double, double, double, double)[] WalkByMinute(Random random, int minutes)
    {
        var walk = new (double East, double North, double EastPerKft, double NorthPerKft)[minutes];
        var stepKt = WalkKtPerRootHour / Math.Sqrt(60);
        for (var i = 1; i < minutes; i++)
        {
            walk[i] = (
                walk[i - 1].East + (stepKt * SyntheticFlight.Gaussian(random)),
                walk[i - 1].North + (stepKt * SyntheticFlight.Gaussian(random)),
                walk[i - 1].EastPerKft + (stepKt / 4 * SyntheticFlight.Gaussian(random)),
                walk[i - 1].NorthPerKft + (stepKt / 4 * SyntheticFlight.Gaussian(random))
            );
        }

        return walk;
    }

    /// <summary>An aeroplane takes its time from one airspeed to the next, 0.6 kt/s; the pilot strays by 2 kt about it.</summary>
    private double AirspeedKt(double timeS, double aimKt)
    {
        const double tauS = 15,
            sigmaKt = 2;
        var stepS = Math.Max(0, timeS - atS);
        atS = timeS;
        strayRate +=
            (((-strayKt / (tauS * tauS)) - (2 * strayRate / tauS)) * stepS)
            + (2 * sigmaKt / Math.Sqrt(tauS * tauS * tauS) * Math.Sqrt(stepS) * SyntheticFlight.Gaussian(random));
        strayKt += strayRate * stepS;
        levelKt += Math.Clamp(aimKt - levelKt, -0.6 * stepS, 0.6 * stepS);
        return levelKt + strayKt;
    }
}
