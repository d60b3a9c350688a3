using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Where the aligner puts segments whose times are known by construction; its grid is of two seconds.</summary>
public sealed class SegmentAlignerTests
{
    private const double GridS = 4;

    [Fact]
    public void Every_segment_is_found_where_it_was_flown()
    {
        var flown = FlownByHand.TimedTurns();
        var alignment = Align(flown)!;
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
        var alignment = Align(flown)!;
        Assert.InRange(alignment.Matches[1].StartS, 72 - GridS, 72 + GridS);
        Assert.InRange(alignment.Matches[5].StartS - flown.StartsS[5], -GridS, GridS);
    }

    [Fact]
    public void A_turn_that_was_not_flown_is_skipped_and_the_others_stay()
    {
        var alignment = Align(FlownByHand.TimedTurns(skipLeft: true))!;
        Assert.Equal(SegmentStatus.Skipped, alignment.Matches[3].Status);
        Assert.Equal(SegmentStatus.Flown, alignment.Matches[1].Status);
        Assert.Equal(SegmentStatus.Flown, alignment.Matches[5].Status);
    }

    [Fact]
    public void Straight_flight_is_no_drill()
    {
        var alignment = Align(new FlownByHand().Straight(600));
        Assert.True(alignment is null || alignment.Confidence < 0.5, $"confidence {alignment?.Confidence}");
    }

    private static Alignment? Align(FlownByHand flown)
    {
        var state = flown.Reconstruct().State;
        return SegmentAligner.Align(FlownByHand.Grid(state), FlownByHand.Timeline("timed-turns"));
    }
}
