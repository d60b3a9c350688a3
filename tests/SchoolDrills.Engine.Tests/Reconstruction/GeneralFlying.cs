namespace SchoolDrills.Engine.Tests.Reconstruction;

/// <summary>
/// An hour as flown between drills: climbs, cruise, slow flight, descents and approaches, each with an airspeed of its own that lasts for
/// minutes, turns of any size in between, and a wind that changes with height and time.
/// </summary>
internal sealed class GeneralFlying
{
    private static readonly (double Kt, double Fpm)[] Phases = [(75, 600), (100, 0), (105, 0), (85, 0), (70, -400), (110, -500)];

    private readonly Random random;
    private readonly double eastKt,
        northKt,
        eastPerKft,
        northPerKft,
        eastPerHour,
        northPerHour;
    private double strayKt,
        strayRate,
        levelKt = 75,
        atS;

    public GeneralFlying(int seed, double minutes)
    {
        random = new Random(seed);
        (eastKt, northKt) = (12 * SyntheticFlight.Gaussian(random), 12 * SyntheticFlight.Gaussian(random));
        (eastPerKft, northPerKft) = (2 * SyntheticFlight.Gaussian(random), 2 * SyntheticFlight.Gaussian(random));
        (eastPerHour, northPerHour) = (3 * SyntheticFlight.Gaussian(random), 3 * SyntheticFlight.Gaussian(random));
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
        double kft = (altitudeFt - 3000) / 1000,
            hours = timeS / 3600;
        return (eastKt + (eastPerKft * kft) + (eastPerHour * hours), northKt + (northPerKft * kft) + (northPerHour * hours));
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
