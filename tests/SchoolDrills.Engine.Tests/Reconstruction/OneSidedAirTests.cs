using SchoolDrills.Accuracy.Flown;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Tests.Scoring;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Reconstruction;

/// <summary>Wind where the airspeed is recorded without the heading, or the heading without the airspeed.</summary>
public sealed class OneSidedAirTests
{
    private const double WindowS = 420;

    public enum Kept
    {
        Neither,
        Airspeed,
        Heading,
    }

    [Theory]
    [InlineData(Kept.Airspeed)]
    [InlineData(Kept.Heading)]
    public void Two_straights_on_different_tracks_show_the_wind_at_changing_airspeeds(Kept kept)
    {
        var flight = new SyntheticFlight(14, -9)
            .Fly(120, trueAirspeedKt: t => 100 - (t / 10))
            .Turn(100, trueAirspeedKt: t => 88 + ((t - 120) / 5))
            .Fly(120, trueAirspeedKt: t => 95 + ((t - 150) / 10));
        // The turn itself is not recorded.
        var times = Enumerable.Range(0, (int)flight.NowS).Where(t => t is < 118 or > 155).Select(t => (double)t);
        var wind = SyntheticFlight.Reconstruct(Only(kept, flight.Record(times, airData: true))).Wind;
        Assert.Equal(14, wind.EastKt, 1.0);
        Assert.Equal(-9, wind.NorthKt, 1.0);
        Assert.InRange(wind.SigmaKt, 0.5, 5);
    }

    [Theory]
    [InlineData(Kept.Airspeed)]
    [InlineData(Kept.Heading)]
    public void One_straight_shows_no_wind(Kept kept) =>
        Assert.Equal(
            WindSource.None,
            SyntheticFlight.Reconstruct(Only(kept, new SyntheticFlight(14, -9).Fly(600).Record(airData: true))).Wind.Source
        );

    [Theory]
    [InlineData(Kept.Airspeed, 1.04, 0)]
    [InlineData(Kept.Heading, 1, 3)]
    public void A_steady_error_of_what_is_recorded_does_not_pass_for_wind(Kept kept, double scale, double offDeg)
    {
        var flight = new SyntheticFlight(14, -9).Fly(60).Turn(360).Fly(60).Turn(-180).Fly(60);
        var wind = SyntheticFlight.Reconstruct(Only(kept, flight.Record(airData: true), scale, offDeg)).Wind;
        Assert.Equal(14, wind.EastKt, 0.5);
        Assert.Equal(-9, wind.NorthKt, 0.5);
    }

    /// <summary>The circuit is flown at 105 kt to the south and 75 kt to the north, the turns with all of the change.</summary>
    [Theory]
    [InlineData(Kept.Airspeed)]
    [InlineData(Kept.Heading)]
    public void Airspeeds_that_go_with_the_direction_are_not_taken_for_wind(Kept kept)
    {
        var flight = new SyntheticFlight(8, 0, headingDeg: 180);
        for (var leg = 0; leg < 6; leg++)
        {
            var (fromS, kt, otherKt) = (flight.NowS, leg % 2 == 0 ? 105 : 75, leg % 2 == 0 ? 75 : 105);
            flight.Fly(90, trueAirspeedKt: _ => kt).Turn(180, trueAirspeedKt: t => kt + ((t - fromS - 90) / 60 * (otherKt - kt)));
        }

        var wind = SyntheticFlight.Reconstruct(Only(kept, flight.Record(airData: true))).Wind;
        Assert.Equal(8, wind.EastKt, 0.7);
        Assert.Equal(0, wind.NorthKt, 0.7);
        Assert.True(Math.Abs(SyntheticFlight.Reconstruct(Only(Kept.Neither, flight.Record(airData: true))).Wind.NorthKt) > 5);
    }

    [Fact]
    public void An_airspeed_of_half_of_the_flight_is_not_used()
    {
        var track = new SyntheticFlight(14, -9).Fly(60).Turn(360).Fly(60).Turn(-180).Fly(60).Record(airData: true);
        var half = Only(Kept.Airspeed, track);
        Array.Fill(half.TrueAirspeedKt!, double.NaN, track.Count / 2, track.Count - (track.Count / 2));
        Assert.Equal(SyntheticFlight.Reconstruct(Only(Kept.Neither, track)).Wind, SyntheticFlight.Reconstruct(half).Wind);
    }

    /// <summary>
    /// A wind that walks by 4 kt in an hour, changing airspeeds, an airspeed off by 2 % and a heading by 1.5°, one standard deviation each.
    /// </summary>
    [Theory]
    [InlineData(Kept.Airspeed)]
    [InlineData(Kept.Heading)]
    public void Where_the_wind_walks_its_sigma_is_smaller_than_without_and_honest(Kept kept)
    {
        List<(double ErrorKt, double SigmaKt)> with = [],
            without = [];
        for (var seed = 1; seed <= 10; seed++)
        {
            var flying = new WalkingWindFlight(seed, 75);
            var random = new Random(seed);
            var both = flying.Flight.Record(noise: random, airData: true);
            var (scale, offDeg) = (1 + (0.02 * SyntheticFlight.Gaussian(random)), 1.5 * SyntheticFlight.Gaussian(random));
            with.AddRange(Winds(flying, Only(kept, both, scale, offDeg)));
            without.AddRange(Winds(flying, Only(Kept.Neither, both)));
        }

        AssertHonest(with, without, lessSigma: 0.85, lessError: 0.85);
    }

    /// <summary>
    /// An air data computer with errors of its own, general flying at changing airspeeds, half of the hours with circuits.
    /// </summary>
    [Theory]
    [InlineData(Kept.Airspeed)]
    [InlineData(Kept.Heading)]
    public void In_hours_of_flying_the_sigma_of_the_wind_is_smaller_than_without_and_honest(Kept kept)
    {
        List<(double ErrorKt, double SigmaKt)> with = [],
            without = [];
        for (var seed = 1; seed <= 10; seed++)
        {
            var flight = FlownFlight.WithoutDrill(seed);
            var both = new Recorder(flight, new Random(seed)).AirData().Every(1);
            with.AddRange(Winds(flight, Only(kept, both)));
            without.AddRange(Winds(flight, Only(Kept.Neither, both)));
        }

        AssertHonest(with, without, lessSigma: 0.9, lessError: 0.6);
    }

    /// <summary>2.45 sigma per axis hold 95 of a hundred in the plane.</summary>
    private static void AssertHonest(
        List<(double ErrorKt, double SigmaKt)> with,
        List<(double ErrorKt, double SigmaKt)> without,
        double lessSigma,
        double lessError
    )
    {
        Assert.InRange(with.Count(w => w.ErrorKt < 2.45 * w.SigmaKt) / (double)with.Count, 0.9, 1);
        double Ratio(Func<(double ErrorKt, double SigmaKt), double> of) => with.Average(of) / without.Average(of);
        var (error, sigma) = (Ratio(w => w.ErrorKt), Ratio(w => w.SigmaKt));
        Assert.True(sigma < lessSigma && error < lessError, $"{sigma:0.00} of the sigma, {error:0.00} of the error");
    }

    private static IEnumerable<(double, double)> Winds(WalkingWindFlight flying, Track track) =>
        Winds(track, flying.Flight.NowS, (timeS, i, state) => flying.WindAt(timeS, state.AltitudeFt[i]));

    private static IEnumerable<(double, double)> Winds(FlownFlight flight, Track track) =>
        Winds(
            track,
            flight.Moments[^1].TimeS,
            (timeS, _, _) => flight.Day.WindAt(flight.Moments[(int)Math.Round(timeS / FlownFlight.StepS)].MslFt, timeS)
        );

    /// <summary>Errors and sigmas of the wind of seven minutes each, at some moments.</summary>
    private static IEnumerable<(double ErrorKt, double SigmaKt)> Winds(
        Track track,
        double untilS,
        Func<double, int, FlightState, (double EastKt, double NorthKt)> truth
    )
    {
        var state = SyntheticFlight.Reconstruct(track);
        for (double fromS = 600; fromS + WindowS < untilS; fromS += WindowS)
        {
            var wind = Reconstructor.Refine(state, new KnownConditions(), fromS, fromS + WindowS).Wind;
            for (var atS = fromS; wind.Source != WindSource.None && atS < fromS + WindowS; atS += 60)
            {
                var i = state.Motion.FirstFrom(atS);
                var (east, north) = truth(state.TimeS[i], i, state);
                var (eastKt, northKt) = wind.At(state.AltitudeFt[i]);
                yield return (Math.Sqrt(Math.Pow(eastKt - east, 2) + Math.Pow(northKt - north, 2)), wind.SigmaKtAt(state.AltitudeFt[i]));
            }
        }
    }

    private static Track Only(Kept kept, Track track, double scale = 1, double offDeg = 0)
    {
        var (airspeed, heading) = (kept == Kept.Airspeed, kept == Kept.Heading);
        return new Track
        {
            Format = track.Format,
            EpochUtc = track.EpochUtc,
            TimeS = track.TimeS,
            LatDeg = track.LatDeg,
            LonDeg = track.LonDeg,
            GpsAltitudeFt = track.GpsAltitudeFt,
            IndicatedAltitudeFt = track.IndicatedAltitudeFt,
            PressureAltitudeFt = track.PressureAltitudeFt,
            AltimeterSettingHpa = track.AltimeterSettingHpa,
            IndicatedAirspeedKt = airspeed ? track.IndicatedAirspeedKt : null,
            TrueAirspeedKt = airspeed && track.TrueAirspeedKt is { } kt ? Array.ConvertAll(kt, v => v * scale) : null,
            HeadingMagDeg = heading ? track.HeadingMagDeg : null,
            HeadingTrueDeg =
                heading && track.HeadingTrueDeg is { } deg ? Array.ConvertAll(deg, h => Angles.NormalizeDeg(h + offDeg)) : null,
        };
    }
}
