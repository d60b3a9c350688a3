using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Reconstruction;

/// <summary>A flight put together from straights and turns in a wind that is known, to be recorded in any way.</summary>
internal sealed class SyntheticFlight
{
    private const double StepS = 0.1;

    private readonly List<(
        double TimeS,
        double EastM,
        double NorthM,
        double AltitudeFt,
        double HeadingDeg,
        double TrueAirspeedKt
    )> moments = [];
    private readonly Func<double, (double EastKt, double NorthKt)> wind;

    /// <param name="wind">Motion of the air by altitude, knots toward east and north.</param>
    /// <param name="headingDeg">True heading to begin with, degrees.</param>
    /// <param name="altitudeFt">Altitude to begin with, feet.</param>
    public SyntheticFlight(Func<double, (double EastKt, double NorthKt)> wind, double headingDeg = 360, double altitudeFt = 3000)
    {
        this.wind = wind;
        moments.Add((0, 0, 0, altitudeFt, headingDeg, 95));
    }

    public SyntheticFlight(double windEastKt, double windNorthKt, double headingDeg = 360)
        : this(_ => (windEastKt, windNorthKt), headingDeg) { }

    public double NowS => moments[^1].TimeS;

    public (double Lat, double Lon) Origin { get; init; } = (-43.6, 171.8);

    /// <summary>Flies on for some seconds.</summary>
    public SyntheticFlight Fly(
        double seconds,
        double turnRateDegPerS = 0,
        double verticalSpeedFpm = 0,
        Func<double, double>? trueAirspeedKt = null
    )
    {
        var steps = (int)Math.Round(seconds / StepS);
        for (var k = 0; k < steps; k++)
        {
            var (timeS, east, north, altitudeFt, headingDeg, _) = moments[^1];
            timeS = Math.Round(timeS + StepS, 1);
            headingDeg += turnRateDegPerS * StepS;
            altitudeFt += verticalSpeedFpm / 60 * StepS;
            var speedKt = trueAirspeedKt?.Invoke(timeS) ?? 95;
            var (sin, cos) = Math.SinCos(Units.DegToRad(headingDeg - (turnRateDegPerS * StepS / 2)));
            var (windEast, windNorth) = wind(altitudeFt);
            east += Units.KtToMps((speedKt * sin) + windEast) * StepS;
            north += Units.KtToMps((speedKt * cos) + windNorth) * StepS;
            moments.Add((timeS, east, north, altitudeFt, headingDeg, speedKt));
        }

        return this;
    }

    /// <summary>Turns through an angle at standard rate, right positive.</summary>
    public SyntheticFlight Turn(double degrees, double verticalSpeedFpm = 0, Func<double, double>? trueAirspeedKt = null) =>
        Fly(Math.Abs(degrees) / 3, Math.Sign(degrees) * 3, verticalSpeedFpm, trueAirspeedKt);

    /// <summary>The recording at chosen times: positions and satellite altitude.</summary>
    public Track Record(IEnumerable<double>? atS = null, Random? noise = null, bool airData = false)
    {
        var chosen = (atS ?? Enumerable.Range(0, (int)NowS + 1).Select(i => (double)i))
            .Select(t => moments[(int)Math.Round(t / StepS)])
            .ToArray();
        var frame = new LocalFrame(Origin.Lat, Origin.Lon, 0);
        var places = Array.ConvertAll(chosen, m => frame.ToGeodetic(m.EastM + Error(), m.NorthM + Error(), 0));
        return new Track
        {
            Format = "gpx",
            EpochUtc = new DateTimeOffset(2026, 2, 11, 21, 0, 0, TimeSpan.Zero),
            TimeS = Array.ConvertAll(chosen, m => m.TimeS),
            LatDeg = Array.ConvertAll(places, p => p.LatDeg),
            LonDeg = Array.ConvertAll(places, p => p.LonDeg),
            GpsAltitudeFt = Array.ConvertAll(chosen, m => m.AltitudeFt),
            HeadingTrueDeg = airData ? Array.ConvertAll(chosen, m => Angles.NormalizeDeg(m.HeadingDeg)) : null,
            TrueAirspeedKt = airData ? Array.ConvertAll(chosen, m => m.TrueAirspeedKt) : null,
        };

        double Error() => noise is null ? 0 : 0.4 * Gaussian(noise);
    }

    /// <summary>True headings at whole tenths of a second, degrees.</summary>
    public double[] HeadingsTrueDeg(double[] atS) => Array.ConvertAll(atS, t => moments[(int)Math.Round(t / StepS)].HeadingDeg);

    public static FlightState Reconstruct(Track track, KnownConditions? known = null) =>
        Reconstructor.Reconstruct(Clean(track), known ?? new KnownConditions());

    public static CleanTrack Clean(Track track) => Assert.IsType<CleanTrack>(TrackCleaner.Clean(track));

    public static double Gaussian(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
