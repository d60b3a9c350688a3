using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

public sealed class PartialSegmentsTests
{
    [Fact]
    public void A_recording_that_ends_inside_a_turn_cuts_it_and_does_not_give_the_drill_up()
    {
        // The last turn is of 360 degrees; the recording ends after 180 of them.
        var flown = new FlownByHand().Straight(60).Turn(90).RollOutAndStraight(1, 30).Turn(-180).RollOutAndStraight(-1, 30).Turn(180);
        var alignment = Align(flown);
        Assert.Equal(SegmentStatus.Partial, alignment.Matches[5].Status);
        Assert.True(alignment.CutAfter);
        Assert.False(alignment.Aborted);
        Assert.True(alignment.IsUnseen(6));
    }

    [Fact]
    public void A_turn_left_half_way_for_other_flight_gives_the_drill_up()
    {
        // A quarter of the last circle, then a descent straight ahead.
        var flown = new FlownByHand()
            .Straight(60)
            .Turn(90)
            .RollOutAndStraight(1, 30)
            .Turn(-180)
            .RollOutAndStraight(-1, 30)
            .Turn(60)
            .RollOutAndStraight(1, 20)
            .Straight(240, -500);
        var alignment = Align(flown);
        Assert.True(alignment.Aborted);
        Assert.Equal(SegmentStatus.Flown, alignment.Matches[3].Status);
        Assert.NotEqual(SegmentStatus.Flown, alignment.Matches[6].Status);
    }

    private static Alignment Align(FlownByHand flown)
    {
        var grid = FlownByHand.Grid(flown.Reconstruct().State);
        return ReadingSearch.Best(grid, FlownByHand.Timeline("timed-turns"))!;
    }
}
