using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using Xunit;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class NextDrillTests
{
    private static WeakSegment Weak(
        double notMetShare,
        SegmentKind kind = SegmentKind.ClimbTurn,
        int level = 3,
        bool recurring = true,
        string? reason = null
    ) =>
        new(
            new SegmentGroup(kind, Parameter.Altitude, level, null, HasAirData: false),
            ["box-circles"],
            6,
            notMetShare,
            new Interval(notMetShare - 0.1, notMetShare + 0.1),
            recurring,
            null,
            null,
            null,
            SchoolPrior.Jeffreys,
            reason
        );

    private static DrillCandidate Drill(string slug, int level, params SegmentKind[] kinds) => new(slug, "Drill " + slug, level, kinds);

    [Fact]
    public void Nothing_is_suggested_on_too_little_data() =>
        Assert.Empty(NextDrill.Of([Weak(0.8, reason: "too little data: 2 of 3 attempts")], [Drill("a", 3, SegmentKind.ClimbTurn)]));

    /// <summary>By hand: half not met at level 3 is log odds 0; at level 1 one more, 73 % met, at level 2 half of it, 62 %.</summary>
    [Fact]
    public void The_drill_at_the_edge_is_suggested_not_the_one_that_is_too_hard()
    {
        var next = Assert.Single(
            NextDrill.Of(
                [Weak(0.5)],
                [
                    Drill("hard", 3, SegmentKind.ClimbTurn),
                    Drill("edge", 1, SegmentKind.ClimbTurn, SegmentKind.ClimbTurn),
                    Drill("near", 2, SegmentKind.ClimbTurn),
                ]
            )
        );
        Assert.Equal("edge", next.DrillSlug);
        Assert.Equal(1 / (1 + Math.Exp(-1)), next.ExpectedMetShare, 1e-9);
        Assert.Equal(
            "Altitude (climbing turn) is often not met: about 50% at level 3. "
                + "Drill edge, level 1, has 2 such segments; about 73% of the drill should be met: hard enough to learn from.",
            next.Why
        );
    }

    [Fact]
    public void Only_drills_with_the_weak_segment_are_suggested() =>
        Assert.Empty(NextDrill.Of([Weak(0.2)], [Drill("level-only", 3, SegmentKind.LevelTurn)]));

    [Fact]
    public void Without_a_drill_at_the_edge_the_nearest_is_named_as_hard()
    {
        var next = Assert.Single(NextDrill.Of([Weak(0.8)], [Drill("a", 3, SegmentKind.ClimbTurn), Drill("b", 5, SegmentKind.ClimbTurn)]));
        Assert.Equal("a", next.DrillSlug);
        Assert.Contains("That is hard", next.Why, StringComparison.Ordinal);
    }

    /// <summary>By hand: one of four segments met by a fifth, three by nine in ten, is 72.5 %.</summary>
    [Fact]
    public void What_goes_well_makes_up_for_what_does_not()
    {
        var next = Assert.Single(
            NextDrill.Of(
                [Weak(0.8), Weak(0.1, SegmentKind.LevelTurn, recurring: false)],
                [Drill("mixed", 3, SegmentKind.ClimbTurn, SegmentKind.LevelTurn, SegmentKind.LevelTurn, SegmentKind.LevelTurn)]
            )
        );
        Assert.Equal(0.725, next.ExpectedMetShare, 1e-9);
    }

    [Fact]
    public void At_most_three_are_suggested_the_middle_of_the_band_first()
    {
        var next = NextDrill.Of(
            [Weak(0.3, recurring: false), Weak(0.05, SegmentKind.LevelTurn, recurring: false)],
            [
                Drill("d1", 3, SegmentKind.ClimbTurn),
                Drill("d2", 3, SegmentKind.ClimbTurn, SegmentKind.ClimbTurn, SegmentKind.LevelTurn),
                Drill("d3", 3, SegmentKind.ClimbTurn, SegmentKind.LevelTurn),
                Drill("d4", 2, SegmentKind.ClimbTurn),
            ]
        );
        Assert.Equal(["d2", "d4", "d3"], next.Select(n => n.DrillSlug));
        Assert.Contains("the weakest so far, though not clearly weak", next[0].Why, StringComparison.Ordinal);
    }
}
