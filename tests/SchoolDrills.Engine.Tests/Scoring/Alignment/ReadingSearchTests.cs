using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Where the search puts segments whose times are known by construction; its grid is of two seconds.</summary>
public sealed class ReadingSearchTests
{
    private const double GridS = 4;

    [Fact]
    public void Every_segment_is_found_where_it_was_flown()
    {
        var flown = FlownByHand.TimedTurns();
        var alignment = Read(flown)!;
        Assert.False(alignment.Aborted);
        Assert.All(alignment.Matches, m => Assert.Equal(SegmentStatus.Flown, m.Status));
        for (var k = 1; k < 7; k++)
            Assert.InRange(alignment.Matches[k].StartS - flown.StartsS[k], -GridS, GridS);
        Assert.True(alignment.Confidence > 0.9, $"confidence {alignment.Confidence}");
    }

    [Fact]
    public void A_first_turn_twelve_seconds_late_moves_its_own_start_and_those_after_it()
    {
        var flown = FlownByHand.TimedTurns(firstStraightS: 72);
        var alignment = Read(flown)!;
        Assert.InRange(alignment.Matches[1].StartS, 72 - GridS, 72 + GridS);
        Assert.InRange(alignment.Matches[5].StartS - flown.StartsS[5], -GridS, GridS);
    }

    [Fact]
    public void A_turn_that_was_not_flown_is_skipped_and_the_others_stay()
    {
        var alignment = Read(FlownByHand.TimedTurns(skipLeft: true))!;
        Assert.Equal(SegmentStatus.Skipped, alignment.Matches[3].Status);
        Assert.Equal(SegmentStatus.Flown, alignment.Matches[1].Status);
        Assert.Equal(SegmentStatus.Flown, alignment.Matches[5].Status);
    }

    [Fact]
    public void A_turn_flown_to_the_wrong_side_is_still_that_turn()
    {
        var flown = new FlownByHand()
            .Straight(60)
            .Then(f => f.Turn(90).RollOutAndStraight(1, 30).Turn(180).RollOutAndStraight(1, 30).Turn(360).RollOutAndStraight(1, 60));
        var alignment = Read(flown)!;
        Assert.All(alignment.Matches, m => Assert.Equal(SegmentStatus.Flown, m.Status));
        Assert.InRange(alignment.Matches[4].StartS - flown.StartsS[4], -GridS, GridS);
    }

    [Fact]
    public void Half_an_hour_of_straight_flight_before_and_after_moves_nothing()
    {
        var alone = FlownByHand.TimedTurns();
        var within = FlownByHand.TimedTurns(firstStraightS: 60 + 1800).Then(f => f.Straight(1800));
        var (one, two) = (Read(alone)!, Read(within)!);
        for (var k = 1; k < 7; k++)
            Assert.Equal(one.Matches[k].StartS + 1800, two.Matches[k].StartS, GridS);
        Assert.True(two.LogOdds < one.LogOdds, "Among more places to begin, the same flight says less.");
        Assert.True(two.Confidence > 0.9, $"confidence {two.Confidence}");
    }

    [Fact]
    public void Log_odds_fall_with_what_is_assumed_beforehand()
    {
        var grid = FlownByHand.Grid(FlownByHand.TimedTurns().Reconstruct().State);
        var timeline = FlownByHand.Timeline("timed-turns");
        var (sure, unlikely) = (ReadingSearch.Best(grid, timeline)!, ReadingSearch.All(grid, timeline, prior: 0.1)[0]);
        Assert.Equal(Math.Log(0.1), unlikely.LogOdds - sure.LogOdds, 9);
        Assert.Equal(sure.Matches, unlikely.Matches);
    }

    [Fact]
    public void Straight_flight_is_no_drill()
    {
        var alignment = Read(new FlownByHand().Straight(600));
        Assert.True(alignment is null || alignment.Confidence < 0.5, $"confidence {alignment?.Confidence}");
    }

    private static Alignment? Read(FlownByHand flown)
    {
        var state = flown.Reconstruct().State;
        return ReadingSearch.Best(FlownByHand.Grid(state), FlownByHand.Timeline("timed-turns"));
    }
}
