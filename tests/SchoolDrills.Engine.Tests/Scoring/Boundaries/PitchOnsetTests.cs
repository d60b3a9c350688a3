using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Climbs begun and ended at once at known times: the fit spreads the change over five seconds, half of it before.</summary>
public sealed class PitchOnsetTests
{
    private const double SpreadS = 4;

    [Fact]
    public void A_climb_from_level_flight_begins_about_where_it_was_begun()
    {
        var flown = new FlownByHand().Straight(60).Straight(60, 500).Straight(60);
        var state = flown.Reconstruct().State;
        var timeline = FlownByHand.Timeline("vertical-s");
        var level = timeline.Segments[0] with { VerticalSpeedFpm = 0 };
        var foundS = PitchOnset
            .Start(
                state,
                level,
                timeline.Segments[0],
                new SegmentMatch(0, SegmentStatus.Flown, 0, 58),
                new SegmentMatch(1, SegmentStatus.Flown, 58, 120)
            )
            ?.AtS;
        Assert.InRange(foundS!.Value, 60 - SpreadS, 60 + 1);
    }

    [Fact]
    public void A_climb_that_goes_on_ends_with_its_level_off()
    {
        var flown = new FlownByHand().Straight(30).Straight(60, 500).Straight(60);
        var state = flown.Reconstruct().State;
        var climb = FlownByHand.Timeline("vertical-s").Segments[0];
        Assert.InRange(
            PitchOnset.LevelOff(state, climb, new SegmentMatch(0, SegmentStatus.Flown, 30, 90), 140)!.Value.AtS,
            90 - SpreadS,
            90 + 1
        );
    }

    [Fact]
    public void A_climb_that_never_levels_off_has_none()
    {
        var state = new FlownByHand().Straight(30).Straight(120, 500).Reconstruct().State;
        Assert.Null(
            PitchOnset.LevelOff(
                state,
                FlownByHand.Timeline("vertical-s").Segments[0],
                new SegmentMatch(0, SegmentStatus.Flown, 30, 90),
                140
            )
        );
    }
}
