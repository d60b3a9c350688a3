using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Benchmarks;

/// <summary>
/// A lesson of any length with a drill in its middle: a recording of the tests, with free flight of straight legs and standard-rate
/// turns before and after it. The same for the same length and rate in every run.
/// </summary>
/// <param name="TimeS">Seconds from the start.</param>
/// <param name="LatDeg">Latitude, degrees.</param>
/// <param name="LonDeg">Longitude, degrees.</param>
/// <param name="AltitudeM">Satellite altitude, metres.</param>
internal sealed record LongFlight(double[] TimeS, double[] LatDeg, double[] LonDeg, double[] AltitudeM)
{
    /// <summary>The drill that is in it.</summary>
    public const string Drill = "vertical-s-turning";

    public const string Recording = "f10.gpx";

    private const double SpeedMps = 46;
    private const double MetresPerDeg = 111_320;

    public int Count => TimeS.Length;

    public static LongFlight Of(double minutes, int hertz)
    {
        using var stream = File.OpenRead(Path.Combine(AppContext.BaseDirectory, "Recordings", Recording));
        var drill = TrackReader.Read(stream).Track!;
        var seconds = (int)(minutes * 60);
        var free = Math.Max(0, seconds - drill.Count);
        var (lat, lon, alt) = (new List<double>(), new List<double>(), new List<double>());
        var random = new Random(20261125);
        FreeFlight(free / 2, drill.LatDeg[0], drill.LonDeg[0], drill.GpsAltitudeFt![0] * 0.3048);
        var (shiftLat, shiftLon) = lat.Count > 0 ? (lat[^1] - drill.LatDeg[0], lon[^1] - drill.LonDeg[0]) : (0, 0);
        for (var i = 0; i < Math.Min(drill.Count, seconds); i++)
        {
            lat.Add(drill.LatDeg[i] + shiftLat);
            lon.Add(drill.LonDeg[i] + shiftLon);
            alt.Add(drill.GpsAltitudeFt[i] * 0.3048);
        }

        FreeFlight(seconds - lat.Count, lat[^1], lon[^1], alt[^1]);
        var times = Enumerable.Range(0, (lat.Count - 1) * hertz + 1).Select(i => (double)i / hertz).ToArray();
        return new LongFlight(times, At(lat, times), At(lon, times), At(alt, times));

        void FreeFlight(int forS, double fromLat, double fromLon, double fromM)
        {
            double headingRad = random.NextDouble() * Math.Tau,
                legS = 0,
                turnRad = 0;
            for (var s = 0; s < forS; s++)
            {
                if (--legS <= 0)
                {
                    (legS, turnRad) =
                        random.Next(3) == 0 ? (random.Next(10, 60), Math.PI / 60 * (random.Next(2) * 2 - 1)) : (random.Next(40, 200), 0);
                }

                headingRad += turnRad;
                fromLat += SpeedMps * Math.Cos(headingRad) / MetresPerDeg;
                fromLon += SpeedMps * Math.Sin(headingRad) / (MetresPerDeg * Math.Cos(fromLat * Math.PI / 180));
                lat.Add(fromLat);
                lon.Add(fromLon);
                alt.Add(fromM + 6 * Math.Sin(s / 40.0));
            }
        }
    }

    /// <summary>Between seconds by the cubic through the four nearest, so that nothing jerks.</summary>
    private static double[] At(List<double> values, double[] times) =>
        Array.ConvertAll(
            times,
            time =>
            {
                var i = Math.Min((int)time, values.Count - 2);
                var u = time - i;
                double a = values[Math.Max(0, i - 1)],
                    b = values[i],
                    c = values[i + 1],
                    d = values[Math.Min(values.Count - 1, i + 2)];
                return b + 0.5 * u * (c - a + u * (2 * a - 5 * b + 4 * c - d + u * (3 * (b - c) + d - a)));
            }
        );
}
