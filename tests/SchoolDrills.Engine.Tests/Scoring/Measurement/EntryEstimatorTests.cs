using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

public sealed class EntryEstimatorTests
{
    [Fact]
    public void The_entry_is_the_heading_and_level_that_were_held()
    {
        var (entry, declinationDeg) = Estimate(new ScoringOptions());
        // Flown on 360 true, exactly, at 3,000 ft of satellite height: some five degrees from any whole ten, so that a five was meant.
        var heldMagDeg = Math.Round((360 - declinationDeg) / 5) * 5;
        Assert.InRange(Math.Abs(Math.IEEERemainder(360 - declinationDeg, 10)), 3, 5);
        Assert.Equal(0, Angles.DifferenceDeg(entry.HeadingMagDeg, heldMagDeg), 6);
        Assert.Equal(3000, entry.AltitudeFt);
        Assert.Equal(0, entry.AltitudeOffsetFt, 3.0);
    }

    [Fact]
    public void What_was_given_is_kept_and_the_recording_anchored_on_it()
    {
        var (entry, _) = Estimate(new ScoringOptions { HeadingMagDeg = 335, AltitudeFt = 3250 });
        Assert.Equal(335, entry.HeadingMagDeg);
        Assert.Equal(3250, entry.AltitudeFt);
        Assert.Equal(250, entry.AltitudeOffsetFt, 3.0);
    }

    private static (EstimatedEntry Entry, double DeclinationDeg) Estimate(ScoringOptions options)
    {
        var state = FlownByHand.TimedTurns().Reconstruct().State;
        var timeline = FlownByHand.Timeline("timed-turns");
        var alignment = BoundaryRefiner.Refine(state, timeline, ReadingSearch.Best(FlownByHand.Grid(state), timeline)!);
        return (EntryEstimator.Estimate(state, timeline, alignment, options, ExcludedTime.None), state.DeclinationDeg);
    }
}
