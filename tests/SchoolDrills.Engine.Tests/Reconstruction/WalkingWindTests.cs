using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Reconstruction;
using Xunit;

namespace SchoolDrills.Engine.Tests.Reconstruction;

/// <summary>
/// A wind that walks by 4 kt in an hour, which is common practice, on flights of which a fifth of the legs are up to half an hour long.
/// </summary>
public sealed class WalkingWindTests
{
    private const int Flights = 24;
    private const double WindowS = 420;

    [Fact]
    public void True_winds_and_headings_lie_within_their_sigmas_at_turns_and_away_from_them()
    {
        var winds = new Dictionary<bool, List<bool>> { [true] = [], [false] = [] };
        var headings = new Dictionary<bool, List<bool>> { [true] = [], [false] = [] };
        var nearer = new List<bool>();
        for (var seed = 1; seed <= Flights; seed++)
        {
            var flying = new WalkingWindFlight(seed, 75);
            var whole = SyntheticFlight.Reconstruct(flying.Flight.Record(noise: new Random(seed)));
            var truth = flying.Flight.HeadingsTrueDeg(whole.TimeS);
            for (double fromS = 0; fromS + WindowS < flying.Flight.NowS; fromS += WindowS)
            {
                var state = Reconstructor.Refine(whole, new KnownConditions(), fromS, fromS + WindowS);
                if (state.Wind.Source == WindSource.None)
                    continue;
                var turns = flying.Turns.Exists(t => t.ToS > fromS && t.FromS < fromS + WindowS);
                for (var i = (int)fromS; i < fromS + WindowS; i += 30)
                {
                    var (east, north) = flying.WindAt(state.TimeS[i], state.AltitudeFt[i]);
                    var (eastKt, northKt) = state.Wind.At(state.AltitudeFt[i]);
                    // 2.45 sigma per axis hold 95 of a hundred in the plane.
                    var limitKt = 2.45 * state.Wind.SigmaKtAt(state.AltitudeFt[i]);
                    winds[turns].Add(Math.Sqrt(Math.Pow(eastKt - east, 2) + Math.Pow(northKt - north, 2)) < limitKt);
                    if (flying.Turns.Exists(t => state.TimeS[i] > t.FromS - 5 && state.TimeS[i] < t.ToS + 5))
                        continue;
                    var errorDeg = Math.Abs(Angles.DifferenceDeg(state.HeadingMagDeg[i] + state.DeclinationDeg, truth[i]));
                    var trackDeg = Units.RadToDeg(Math.Atan2(state.Motion.EastKt[i], state.Motion.NorthKt[i]));
                    headings[turns].Add(errorDeg < 2 * state.HeadingSigmaDeg);
                    nearer.Add(errorDeg < Math.Abs(Angles.DifferenceDeg(trackDeg, truth[i])));
                }
            }
        }

        foreach (var turns in new[] { true, false })
        {
            Assert.InRange(Share(winds[turns]), 0.9, 0.99);
            Assert.InRange(Share(headings[turns]), 0.9, 0.99);
        }

        Assert.True(Share(nearer) > 0.85, $"{Share(nearer):0.00} of the headings are nearer than the ground track.");
    }

    [Fact]
    public void The_sigma_of_the_wind_grows_with_the_time_from_the_turns_and_shrinks_before_the_next()
    {
        var flight = new SyntheticFlight(14, 9).Fly(60).Turn(360).Turn(-360).Fly(3600).Turn(360).Turn(-360).Fly(60);
        var motion = SyntheticFlight.Reconstruct(flight.Record()).Motion;
        var fields = new WindOverTime(motion, OneSidedAir.None).Fields(new KnownConditions());
        double SigmaKt(double timeS) => WindOverTime.At(fields, timeS).SigmaKt;

        Assert.True(SigmaKt(150) < 1.5);
        Assert.True(SigmaKt(150) < SigmaKt(600) && SigmaKt(600) < SigmaKt(1200) && SigmaKt(1200) < SigmaKt(2000));
        Assert.True(SigmaKt(2300) > SigmaKt(3000) && SigmaKt(3000) > SigmaKt(3800));
        // Half way of an hour between two known winds a walk of 4 kt in an hour is good to 4 · √(1/4) = 2 kt.
        Assert.Equal(2, SigmaKt(2100), 0.5);
        Assert.Equal(14, WindOverTime.At(fields, 2100).EastKt, 0.7);
    }

    [Fact]
    public void Straights_alone_do_not_move_the_wind_of_the_turns()
    {
        var random = new Random(3);
        var flight = new SyntheticFlight(20, -12).Turn(360).Turn(-360);
        double strayKt = 0;
        flight.Fly(3000, trueAirspeedKt: _ => 95 + (strayKt = (0.99 * strayKt) + (0.3 * SyntheticFlight.Gaussian(random))));
        var state = SyntheticFlight.Reconstruct(flight.Record(noise: new Random(4)));
        var wind = Reconstructor.Refine(state, new KnownConditions(), 2000, 2420).Wind;
        Assert.Equal(20, wind.EastKt, 2.0);
        Assert.Equal(-12, wind.NorthKt, 2.0);
        Assert.InRange(wind.SigmaKt, 2, 5);
    }

    private static double Share(List<bool> of) => of.Count(yes => yes) / (double)of.Count;
}
