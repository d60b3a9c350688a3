using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Accuracy;

/// <summary>
/// More recordings of a flight, made from its true path: other satellite errors, another wind, fewer or more samples. What was fitted
/// on the recordings must hold for these too. The errors follow the flights' own noise model: a first-order Gauss–Markov error of 2 m on
/// each horizontal axis and 4 m in height over 60 s, and 1 m of white noise in height.
/// </summary>
internal static class Variants
{
    private static readonly Noise Usual = new(HorizontalM: 2, VerticalM: 4, WanderS: 60, WhiteHorizontalM: 0, WhiteVerticalM: 1);

    /// <summary>
    /// Satellite errors, standard deviations in metres: correlated errors of each horizontal axis and of height with their time constant,
    /// and
    /// white noise.
    /// </summary>
    private sealed record Noise(double HorizontalM, double VerticalM, double WanderS, double WhiteHorizontalM, double WhiteVerticalM);

    /// <summary>A variant: its name, the recording and the wind added to the true wind, knots toward east and north.</summary>
    public sealed record Variant(string Name, Track Track, (double EastKt, double NorthKt) AddedWind);

    /// <summary>The variants of a flight, the same in every run.</summary>
    /// <param name="flight">The flight.</param>
    public static IEnumerable<Variant> Of(TruthFlight flight)
    {
        var seed = flight.Id.Sum(c => c);
        (double, double) still = (0, 0);
        yield return new("other noise", Flown(flight, seed, still, EverySecond(flight)), still);
        yield return new("other noise 2", Flown(flight, seed + 1, still, EverySecond(flight)), still);
        yield return new("wind +25 from west", Flown(flight, seed + 2, (25, 0), EverySecond(flight)), (25, 0));
        yield return new("wind +20 from north", Flown(flight, seed + 3, (0, -20), EverySecond(flight)), (0, -20));
        yield return new("every 2 s", Flown(flight, seed + 4, still, EverySecond(flight).Where((_, i) => i % 2 == 0)), still);
        yield return new("every 5 s", Flown(flight, seed + 5, still, EverySecond(flight).Where((_, i) => i % 5 == 0)), still);
        yield return new("uneven 1 to 4 s", Flown(flight, seed + 6, still, Uneven(flight, new Random(seed))), still);
        yield return new(
            "10 Hz",
            Flown(flight, seed + 7, still, Enumerable.Range(0, (flight.Seconds.Count - 1) * 10).Select(i => i / 10.0)),
            still
        );
    }

    /// <summary>
    /// Recordings of poor phones: 5 m and 20 ft of white noise, twice that, an 8 m error that changes quickly, and dropouts of 5 to 20 s.
    /// A drill must still be found in them, and none where there is none.
    /// </summary>
    /// <param name="flight">The flight.</param>
    /// <param name="draw">Number of the draw.</param>
    public static IEnumerable<Variant> RoughOf(TruthFlight flight, int draw = 0)
    {
        var seed = (1000 * (draw + 1)) + flight.Id.Sum(c => c);
        (double, double) still = (0, 0);
        yield return new(
            "white 5 m, 20 ft",
            Flown(flight, seed, still, EverySecond(flight), Usual with { WhiteHorizontalM = 5, WhiteVerticalM = Units.FtToM(20) }),
            still
        );
        yield return new(
            "white 10 m, 40 ft",
            Flown(flight, seed + 100, still, EverySecond(flight), Usual with { WhiteHorizontalM = 10, WhiteVerticalM = Units.FtToM(40) }),
            still
        );
        yield return new(
            "wander 8 m, 30 s",
            Flown(flight, seed + 200, still, EverySecond(flight), Usual with { HorizontalM = 8, VerticalM = 8, WanderS = 30 }),
            still
        );
        yield return new("dropouts of 5 to 20 s", Flown(flight, seed + 300, still, WithDropouts(flight, new Random(seed))), still);
        yield return new(
            "dropouts, white 5 m, 20 ft",
            Flown(
                flight,
                seed + 400,
                still,
                WithDropouts(flight, new Random(seed + 1)),
                Usual with
                {
                    WhiteHorizontalM = 5,
                    WhiteVerticalM = Units.FtToM(20),
                }
            ),
            still
        );
    }

    /// <summary>Every second, with a dropout every one to two minutes.</summary>
    private static IEnumerable<double> WithDropouts(TruthFlight flight, Random random)
    {
        var next = random.Next(60, 120);
        for (var i = 0; i < flight.Seconds.Count; i++)
        {
            if (i == next)
            {
                i += random.Next(5, 21);
                next = i + random.Next(60, 120);
                if (i >= flight.Seconds.Count)
                    yield break;
            }

            yield return i;
        }
    }

    private static IEnumerable<double> EverySecond(TruthFlight flight) => Enumerable.Range(0, flight.Seconds.Count).Select(i => (double)i);

    private static IEnumerable<double> Uneven(TruthFlight flight, Random random)
    {
        for (var i = 0; i < flight.Seconds.Count; i += random.Next(1, 5))
            yield return i;
    }

    private static Track Flown(
        TruthFlight flight,
        int seed,
        (double EastKt, double NorthKt) wind,
        IEnumerable<double> times,
        Noise? noise = null
    )
    {
        var (horizontalM, verticalM, wanderS, whiteHorizontalM, whiteVerticalM) = noise ?? Usual;
        var random = new Random(seed);
        var timeS = times.ToArray();
        var seconds = flight.Seconds;
        var frame = new LocalFrame(seconds[0].LatDeg, seconds[0].LonDeg, 0);
        var places = seconds.Select(s => frame.ToLocal(s.LatDeg, s.LonDeg, 0)).ToArray();
        double[] lat = new double[timeS.Length],
            lon = new double[timeS.Length],
            alt = new double[timeS.Length];
        double east = Gaussian(random) * horizontalM,
            north = Gaussian(random) * horizontalM,
            up = Gaussian(random) * verticalM;
        for (var i = 0; i < timeS.Length; i++)
        {
            var keep = Math.Exp(-(i > 0 ? timeS[i] - timeS[i - 1] : 0) / wanderS);
            var fresh = Math.Sqrt(1 - (keep * keep));
            east = (keep * east) + (fresh * horizontalM * Gaussian(random));
            north = (keep * north) + (fresh * horizontalM * Gaussian(random));
            up = (keep * up) + (fresh * verticalM * Gaussian(random));
            var drift = Units.KtToMps(timeS[i]);
            var e = Cubic(k => places[k].EastM) + (wind.EastKt * drift) + east + White(whiteHorizontalM);
            var n = Cubic(k => places[k].NorthM) + (wind.NorthKt * drift) + north + White(whiteHorizontalM);
            (lat[i], lon[i], _) = frame.ToGeodetic(e, n, 0);
            alt[i] = Cubic(k => seconds[k].MslFt) + Units.MToFt(up + White(whiteVerticalM));

            // No draw without noise, so that variants without it keep their random sequence.
            double White(double sigmaM) => sigmaM > 0 ? sigmaM * Gaussian(random) : 0;

            double Cubic(Func<int, double> at)
            {
                var k = Math.Min((int)timeS[i], seconds.Count - 2);
                var u = timeS[i] - k;
                if (u == 0)
                    return at(k);
                double a = at(Math.Max(k - 1, 0)),
                    b = at(k),
                    c = at(k + 1),
                    d = at(Math.Min(k + 2, seconds.Count - 1));
                return b + (0.5 * u * (c - a + (u * ((2 * a) - (5 * b) + (4 * c) - d + (u * ((3 * (b - c)) + d - a))))));
            }
        }

        return new Track
        {
            Format = "gpx",
            EpochUtc = seconds[0].Utc,
            TimeS = timeS,
            LatDeg = lat,
            LonDeg = lon,
            GpsAltitudeFt = alt,
        };
    }

    private static double Gaussian(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
