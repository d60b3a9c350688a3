using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Reconstruction;

/// <summary>What is recorded on the ground is no flight.</summary>
public sealed class AirborneTests
{
    [Fact]
    public void The_air_is_between_take_off_and_landing_and_a_touch_and_go_does_not_leave_it()
    {
        var flight = new SyntheticFlight(5, 3, headingDeg: 90);
        flight.Fly(120, trueAirspeedKt: _ => 0).Fly(180, 0.8, trueAirspeedKt: _ => 15);
        var rollsS = flight.NowS;
        flight.Fly(20, trueAirspeedKt: t => 3 * (t - rollsS)).Fly(120, 0, 500, _ => 75).Turn(180).Fly(120, 0, -500, _ => 75);
        var touchesS = flight.NowS;
        flight
            .Fly(8, trueAirspeedKt: t => 60 - (2 * (t - touchesS)))
            .Fly(8, trueAirspeedKt: t => 44 + (2 * (t - touchesS - 8)))
            .Fly(120, 0, 500, _ => 75)
            .Turn(180)
            .Fly(120, 0, -500, _ => 75);
        var landsS = flight.NowS;
        flight.Fly(20, trueAirspeedKt: t => Math.Max(10, 60 - (3 * (t - landsS)))).Fly(200, 0.5, trueAirspeedKt: _ => 12);
        var state = SyntheticFlight.Reconstruct(flight.Record(noise: new Random(3)));

        var first = Array.IndexOf(state.InAir, true);
        var last = Array.LastIndexOf(state.InAir, true);
        Assert.InRange(state.TimeS[first], rollsS, rollsS + 20);
        Assert.InRange(state.TimeS[last], landsS, landsS + 20);
        Assert.All(state.InAir[first..last], Assert.True);
    }

    [Fact]
    public void A_headwind_that_leaves_no_speed_over_the_ground_is_no_landing_where_airspeed_is_recorded()
    {
        var flight = new SyntheticFlight(0, -45, headingDeg: 360).Fly(120, trueAirspeedKt: _ => 60);
        Assert.All(SyntheticFlight.Reconstruct(flight.Record(airData: true)).InAir, Assert.True);
    }

    /// <summary>Speeding up and slowing down on the way to the runway has the shape of a change of airspeed.</summary>
    [Fact]
    public void No_drill_is_found_while_taxiing_or_parked()
    {
        var found = new List<string>();
        for (var seed = 1; seed <= 12; seed++)
        {
            var random = new Random(seed);
            var flight = new SyntheticFlight(0, 0);
            // Along the taxiway, slower, held short, and on: all on one heading.
            for (double kt = 0; flight.NowS < 1200; )
            {
                double nextKt = kt > 10 ? 0 : 26 + (3 * random.NextDouble()),
                    fromS = flight.NowS,
                    changeS = 40 + (30 * random.NextDouble()),
                    fromKt = kt;
                flight.Fly(changeS, trueAirspeedKt: t => fromKt + ((nextKt - fromKt) * (t - fromS) / changeS));
                flight.Fly(50 + (20 * random.NextDouble()), trueAirspeedKt: _ => nextKt);
                kt = nextKt;
            }

            var taxied = ReconstructedFlight.Of(flight.Record(airData: true), new ScoringOptions())!;
            foreach (var template in Catalogue.Templates)
            {
                if (DrillFinder.Find(taxied, template, new ScoringOptions()).IsFound)
                    found.Add($"{template.Slug}, seed {seed}");
            }
        }

        Assert.Empty(found);
    }
}
