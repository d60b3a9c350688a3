using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Reconstruction;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

public sealed class OnsetTests
{
    [Fact]
    public void It_goes_over_to_another_by_the_share()
    {
        var (rolls, levels) = (new Onset(100, 1), new Onset(104, 5));
        Assert.Equal(rolls, rolls.Toward(levels, 0));
        Assert.Equal(new Onset(102, 3), rolls.Toward(levels, 0.5));
        Assert.Equal(levels, rolls.Toward(levels, 1));
    }

    [Fact]
    public void Its_sigma_is_never_below_the_least() => Assert.Equal(0.6, new Onset(100, 0).With(0.6, 2.5).SigmaS, 1e-9);

    /// <summary>A climbing turn of which the level-off comes later and later after the roll-out, a tenth of a second each time.</summary>
    [Fact]
    public void A_little_later_level_off_moves_the_boundary_by_little()
    {
        var boundariesS = Enumerable.Range(10, 50).Select(tenths => BoundaryS(tenths / 10.0)).ToList();
        var jumpsS = boundariesS.Zip(boundariesS.Skip(1), (a, b) => Math.Abs(b - a)).ToList();
        Assert.InRange(jumpsS.Max(), 0, 1.1);
        Assert.True(boundariesS[^1] - boundariesS[0] > 2, "The level-off counts once it is late enough.");
    }

    private static double BoundaryS(double levelsLaterS)
    {
        var flight = new SyntheticFlight(4, -2).Fly(60).Turn(180, 500).Fly(levelsLaterS, verticalSpeedFpm: 500).Fly(60);
        var timeline = FlownByHand.Timeline("vertical-s-turning");
        var climbing = timeline.Segments[1] with { Index = 0 };
        var two = timeline with { Segments = [climbing, timeline.Segments[^1] with { Index = 1 }] };
        var matches = new[] { new SegmentMatch(0, SegmentStatus.Flown, 60, 121), new SegmentMatch(1, SegmentStatus.Flown, 121, 180) };
        var state = SyntheticFlight.Reconstruct(flight.Record());
        return BoundaryRefiner.Refine(state, two, new Alignment(matches, 1, false)).Matches[1].StartS;
    }
}
