using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Reconstruction;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

public sealed class RunFinderTests
{
    [Fact]
    public void A_drill_flown_twice_is_two_runs_in_time()
    {
        var once = FlownByHand.TimedTurns();
        var secondS = once.NowS + 120;
        var flown = once.Then(f => f.Straight(180))
            .Then(f => f.Turn(90).RollOutAndStraight(1, 30).Turn(-180).RollOutAndStraight(-1, 30).Turn(360).RollOutAndStraight(1, 60));
        var runs = Find(flown);
        Assert.Equal(2, runs.All.Count);
        Assert.InRange(runs.All[0].Alignment.StartS, -10, 10);
        Assert.InRange(runs.All[1].Alignment.StartS, secondS - 10, secondS + 10);
        Assert.Same(runs.Nearest, runs.All[runs.Best]);
    }

    [Fact]
    public void A_drill_flown_to_the_other_side_is_found_and_marked()
    {
        var run = Assert.Single(Find(FlownByHand.TimedTurns(sense: -1)).All);
        Assert.True(run.Mirrored);
        Assert.All(run.Alignment.Matches, m => Assert.Equal(SegmentStatus.Flown, m.Status));
    }

    /// <summary>Steep turns to one side and the other with straights of any length, as they are practised.</summary>
    [Theory]
    [InlineData(10, 48, 10, 1)]
    [InlineData(10, 48, 10, -1)]
    [InlineData(12, 8, 15, 1)]
    [InlineData(25, 100, 40, -1)]
    [InlineData(60, 15, 60, -1)]
    public void Straights_between_maneuvers_are_what_the_pilot_makes_of_them(double beforeS, double betweenS, double afterS, int side)
    {
        const double rate = 10.5;
        var flight = new SyntheticFlight(9, 4).Fly(200).Turn(40).Fly(100).Turn(-90);
        flight.Fly(60 + beforeS).Fly(360 / rate, side * rate).Fly(betweenS).Fly(360 / rate, side * -rate).Fly(afterS).Turn(60).Fly(100);
        var flown = ReconstructedFlight.Of(flight.Record(noise: new Random(4)), new ScoringOptions())!;
        var found = DrillFinder.Find(flown, Scored.Drill("steep-turns"), new ScoringOptions());
        Assert.True(found.IsFound, $"confidence {found.Confidence:0.00}");
    }

    [Fact]
    public void Straight_flight_has_no_run() => Assert.Empty(Find(new FlownByHand().Straight(900)).All);

    [Fact]
    public void One_reconstruction_serves_every_drill()
    {
        var flight = FlownByHand.TimedTurns().Reconstruct();
        var turns = DrillFinder.Find(flight, Scored.Drill("timed-turns"), new ScoringOptions());
        var box = DrillFinder.Find(flight, Scored.Drill("box-circles"), new ScoringOptions());
        Assert.True(turns.IsFound);
        Assert.False(box.IsFound);
        // In any order, and as when looked for alone.
        var again = DrillFinder.Find(FlownByHand.TimedTurns().Reconstruct(), Scored.Drill("timed-turns"), new ScoringOptions());
        Assert.Equal(again.Confidence, turns.Confidence, 12);
    }

    private static FoundRuns Find(FlownByHand flown) =>
        RunFinder.Find(flown.Reconstruct(), FlownByHand.Timeline("timed-turns"), FlownByHand.Timeline("timed-turns", mirrored: true));
}
