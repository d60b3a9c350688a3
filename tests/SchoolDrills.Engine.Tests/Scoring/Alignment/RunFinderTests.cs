using SchoolDrills.Engine.Scoring;
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
