using SchoolDrills.Engine.Reconstruction;
using Xunit;

namespace SchoolDrills.Engine.Tests.Reconstruction;

public sealed class WindEstimatorTests
{
    [Theory]
    [InlineData(0, 0)]
    [InlineData(20, 0)]
    [InlineData(-12, 25)]
    [InlineData(5, -38)]
    public void A_circle_at_steady_airspeed_gives_the_wind_with_a_sigma_that_covers_it(double eastKt, double northKt)
    {
        var flight = new SyntheticFlight(eastKt, northKt).Fly(20).Turn(360).Fly(20);
        Recovered(SyntheticFlight.Reconstruct(flight.Record(noise: new Random(5))).Wind, eastKt, northKt, withinKt: 0.5);
    }

    [Fact]
    public void A_wind_that_changes_with_height_is_followed_through_climbing_and_descending_circles()
    {
        static (double, double) Air(double altitudeFt) => (10 + ((altitudeFt - 3000) / 1000 * 5), -8);
        var flight = new SyntheticFlight(Air).Turn(360, 500).Fly(30).Turn(-360, -500).Fly(30).Turn(360, 500).Fly(30).Turn(-360, -500);
        var wind = SyntheticFlight.Reconstruct(flight.Record()).Wind;
        // The fit separates what a steady climb costs of true airspeed from what thinner air adds; half a knot is left.
        Assert.Equal(11.25, wind.At(3250).EastKt, 0.7);
        Assert.Equal(13.75, wind.At(3750).EastKt, 0.7);
        Assert.Equal(-8, wind.At(3500).NorthKt, 0.7);
    }

    [Theory]
    [InlineData(null)]
    [InlineData(90.0)]
    public void A_straight_alone_shows_no_wind_even_with_a_known_airspeed(double? airspeedKt)
    {
        var flight = new SyntheticFlight(14, 9).Fly(300);
        var state = SyntheticFlight.Reconstruct(flight.Record());
        Assert.Equal(WindSource.None, state.Wind.Source);
        Assert.Equal(HeadingSource.GroundTrack, state.HeadingSource);
        Assert.Equal(AirspeedSource.None, state.AirspeedSource);
        Assert.All(state.AirspeedKt, v => Assert.Equal(double.NaN, v));

        var planned = airspeedKt is { } kt ? new PlannedFlight(_ => kt, [new PlannedStraight(0, 300, 0)]) : null;
        Assert.True(WindEstimator.FromTurns(state.Motion, 0, 300, planned).SigmaKt > 15);
    }

    [Fact]
    public void An_entered_wind_is_used_where_none_can_be_solved_and_not_where_turns_show_it_better()
    {
        var given = new KnownConditions(Wind: WindField.Given(270, 20));
        Assert.Equal(WindSource.Given, SyntheticFlight.Reconstruct(new SyntheticFlight(14, 9).Fly(300).Record(), given).Wind.Source);
        Recovered(SyntheticFlight.Reconstruct(new SyntheticFlight(14, 9).Turn(720).Record(), given).Wind, 14, 9, withinKt: 0.5);
    }

    [Fact]
    public void Rotating_the_flight_rotates_the_wind_and_mirroring_it_mirrors_the_wind()
    {
        for (var seed = 1; seed <= 20; seed++)
        {
            var random = new Random(seed);
            double east = (random.NextDouble() * 50) - 25,
                north = (random.NextDouble() * 50) - 25,
                byDeg = random.NextDouble() * 360;
            var (sin, cos) = Math.SinCos(byDeg * Math.PI / 180);
            var plain = Wandering(new SyntheticFlight(east, north), seed, 1);
            var turned = Wandering(new SyntheticFlight((east * cos) + (north * sin), (north * cos) - (east * sin), byDeg), seed, 1);
            var mirrored = Wandering(new SyntheticFlight(-east, north), seed, -1);

            Assert.Equal((plain.EastKt * cos) + (plain.NorthKt * sin), turned.EastKt, 0.05);
            Assert.Equal((plain.NorthKt * cos) - (plain.EastKt * sin), turned.NorthKt, 0.05);
            Assert.Equal(-plain.EastKt, mirrored.EastKt, 0.05);
            Assert.Equal(plain.NorthKt, mirrored.NorthKt, 0.05);
            Assert.Equal(plain.SigmaKt, turned.SigmaKt, 0.05);
        }
    }

    /// <summary>
    /// A pilot whose airspeed varies by 3 kt, in a hundred flights: 91 of a hundred lie within two sigma along both axes.
    /// </summary>
    [Fact]
    public void The_sigma_covers_the_errors_of_an_unsteady_airspeed()
    {
        var covered = Enumerable
            .Range(1, 100)
            .Count(seed =>
            {
                var wind = Wandering(new SyntheticFlight(11, -7), seed, 1);
                return Math.Abs(wind.EastKt - 11) <= 2 * wind.SigmaKt && Math.Abs(wind.NorthKt + 7) <= 2 * wind.SigmaKt;
            });
        Assert.InRange(covered, 84, 98);
    }

    [Fact]
    public void An_airspeed_lost_in_one_climb_hardly_moves_the_wind()
    {
        var flight = new SyntheticFlight(12, 5).Fly(30).Turn(360).Fly(30).Turn(-360);
        var letGoAtS = flight.NowS;
        flight.Fly(30, 0, 500, t => 95 - (25 * Math.Sin((t - letGoAtS) / 30 * Math.PI))).Turn(360).Fly(30);
        Recovered(SyntheticFlight.Reconstruct(flight.Record()).Wind, 12, 5, withinKt: 0.5);
    }

    [Fact]
    public void Straights_on_their_headings_improve_the_wind_and_one_off_its_heading_is_outvoted()
    {
        // Half turns with airspeed rising through each: the turns alone take the rise for wind.
        var flight = new SyntheticFlight(15, 0);
        var straights = new List<PlannedStraight>();
        for (var leg = 0; leg < 6; leg++)
        {
            var fromS = flight.NowS;
            flight.Fly(60);
            straights.Add(new PlannedStraight(fromS, flight.NowS, leg * 180));
            var turnS = flight.NowS;
            flight.Turn(180, trueAirspeedKt: t => 95 + (6 * Math.Sin((t - turnS) / 60 * Math.PI)));
        }

        var motion = SyntheticFlight.Reconstruct(flight.Record()).Motion;
        double Error(PlannedFlight? planned)
        {
            var wind = WindEstimator.FromTurns(motion, 0, flight.NowS, planned);
            return Math.Sqrt(Math.Pow(wind.EastKt - 15, 2) + Math.Pow(wind.NorthKt, 2));
        }

        var alone = Error(null);
        var aimed = Error(new PlannedFlight(_ => 90, straights));
        Assert.True(aimed < 0.6 && aimed < alone, $"{aimed:0.00} kt with the headings, {alone:0.00} kt without.");

        // All headings off equally is no evidence, a single one little.
        Assert.Equal(aimed, Error(new PlannedFlight(_ => 90, straights.ConvertAll(s => s with { HeadingDeg = s.HeadingDeg + 137 }))), 0.02);
        straights[2] = straights[2] with { HeadingDeg = straights[2].HeadingDeg + 25 };
        Assert.True(Error(new PlannedFlight(_ => 90, straights)) < 1);
    }

    [Fact]
    public void An_airspeed_changed_on_purpose_is_not_taken_for_wind()
    {
        // South at 100 kt, north at 80: without the plan the turn between looks like 10 kt of wind from the north.
        var flight = new SyntheticFlight(8, 0, headingDeg: 180)
            .Fly(120, trueAirspeedKt: _ => 104.5)
            .Turn(180, trueAirspeedKt: t => 104.5 - ((t - 120) / 60 * 20.9))
            .Fly(120, trueAirspeedKt: _ => 83.6);
        var motion = SyntheticFlight.Reconstruct(flight.Record()).Motion;
        var wind = WindEstimator.FromTurns(
            motion,
            0,
            300,
            new PlannedFlight(
                t => 100 - (Math.Clamp((t - 120) / 60, 0, 1) * 20),
                [new PlannedStraight(0, 120, 180), new PlannedStraight(180, 300, 360)]
            )
        );
        Assert.Equal(8, wind.EastKt, 1.0);
        Assert.Equal(0, wind.NorthKt, 1.0);
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(2)]
    [InlineData(5)]
    [InlineData(8)]
    public void The_wind_is_the_same_however_often_the_recorder_writes(double everyS)
    {
        var flight = new SyntheticFlight(18, -11).Fly(40).Turn(360).Fly(40).Turn(-360).Fly(40);
        var times = Enumerable.Range(0, (int)(flight.NowS / everyS)).Select(i => i * everyS);
        Recovered(SyntheticFlight.Reconstruct(flight.Record(times)).Wind, 18, -11, withinKt: everyS > 5 ? 1.5 : 0.5);
    }

    [Fact]
    public void Uneven_sampling_with_a_gap_gives_the_wind_too()
    {
        var random = new Random(9);
        var flight = new SyntheticFlight(18, -11).Fly(40).Turn(360).Fly(40).Turn(-360).Fly(40);
        var times = Enumerable.Range(0, (int)flight.NowS).Where(t => t is < 90 or > 125 && random.Next(3) > 0).Select(t => (double)t);
        Recovered(SyntheticFlight.Reconstruct(flight.Record(times)).Wind, 18, -11, withinKt: 0.7);
    }

    [Fact]
    public void Recorded_heading_and_airspeed_give_the_wind_on_a_straight_too()
    {
        var state = SyntheticFlight.Reconstruct(new SyntheticFlight(14, 9).Fly(120).Record(airData: true));
        Assert.Equal(WindSource.AirData, state.Wind.Source);
        Recovered(state.Wind, 14, 9, withinKt: 0.2);
    }

    private static void Recovered(WindField wind, double eastKt, double northKt, double withinKt)
    {
        var (east, north) = wind.At(3000);
        Assert.Equal(eastKt, east, withinKt);
        Assert.Equal(northKt, north, withinKt);
        Assert.InRange(wind.SigmaKt, 0.2, 3);
    }

    /// <summary>Two circles and straights with an airspeed as unsteady as a pilot's: 3 kt, corrected within 15 s.</summary>
    private static WindField Wandering(SyntheticFlight flight, int seed, int side)
    {
        var random = new Random(seed);
        double strayKt = 0,
            rate = 0;
        double Airspeed(double timeS)
        {
            // Critically damped second order, driven so that it scatters by 3 kt: 2 σ / √(τ³) a root second.
            const double tauS = 15,
                sigmaKt = 3,
                stepS = 0.1;
            rate +=
                (((-strayKt / (tauS * tauS)) - (2 * rate / tauS)) * stepS)
                + (2 * sigmaKt / Math.Sqrt(tauS * tauS * tauS) * Math.Sqrt(stepS) * SyntheticFlight.Gaussian(random));
            strayKt += rate * stepS;
            return 95 + strayKt;
        }

        flight
            .Fly(30, trueAirspeedKt: Airspeed)
            .Turn(side * 360, trueAirspeedKt: Airspeed)
            .Fly(60, trueAirspeedKt: Airspeed)
            .Turn(side * -360, trueAirspeedKt: Airspeed)
            .Fly(60, trueAirspeedKt: Airspeed)
            .Turn(side * 90, trueAirspeedKt: Airspeed)
            .Fly(60, trueAirspeedKt: Airspeed);
        var state = SyntheticFlight.Reconstruct(flight.Record());
        return WindEstimator.FromTurns(state.Motion, 0, flight.NowS);
    }
}
