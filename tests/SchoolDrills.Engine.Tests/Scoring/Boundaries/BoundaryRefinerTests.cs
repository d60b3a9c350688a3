using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Boundaries against the moment the roll began, which is known by construction.</summary>
public sealed class BoundaryRefinerTests
{
    /// <summary>Controls move this much before the aeroplane does (HandlingModel); flights made by hand have no such delay.</summary>
    private const double RollInDelayS = 0.6,
        RollOutDelayS = 0.2;

    [Fact]
    public void Every_roll_in_and_roll_out_is_found_to_half_a_second()
    {
        var flown = FlownByHand.TimedTurns();
        var refined = Refine(flown);
        for (var k = 1; k < 7; k++)
        {
            var delayS = k % 2 == 1 ? RollInDelayS : RollOutDelayS;
            Assert.InRange(refined.Matches[k].StartS + delayS - flown.StartsS[k], -0.5, 0.5);
        }
    }

    [Fact]
    public void Segments_meet_in_one_boundary()
    {
        var refined = Refine(FlownByHand.TimedTurns());
        for (var k = 1; k < 7; k++)
            Assert.Equal(refined.Matches[k - 1].EndS, refined.Matches[k].StartS);
    }

    [Fact]
    public void The_clock_starts_where_the_straights_say_it_did()
    {
        var refined = Refine(FlownByHand.TimedTurns());
        Assert.InRange(refined.ClockStartS, -2.5, 0.5);
    }

    private static Alignment Refine(FlownByHand flown)
    {
        var state = flown.Reconstruct().State;
        var timeline = FlownByHand.Timeline("timed-turns");
        return BoundaryRefiner.Refine(state, timeline, ReadingSearch.Best(FlownByHand.Grid(state), timeline)!);
    }
}
