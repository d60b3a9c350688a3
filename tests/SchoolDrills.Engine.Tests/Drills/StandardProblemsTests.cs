using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Engine.Tests.Drills;

public sealed class StandardProblemsTests
{
    private static readonly ToleranceStandard Good = new()
    {
        Slug = "ours",
        Title = "Ours",
        Source = "The school",
        Basis = "school",
        Tolerances = [new(Parameter.Altitude, 100)],
    };

    [Fact]
    public void What_comes_with_the_engine_has_no_problems()
    {
        Assert.All(Catalogue.Standards, s => Assert.Empty(s.Problems()));
        Assert.All(Catalogue.Aircraft, a => Assert.Empty(a.Problems()));
    }

    [Fact]
    public void A_tolerance_of_zero_is_refused() =>
        Assert.Equal(
            ["The vertical-speed tolerance must be above 0."],
            (Good with { Tolerances = [new(Parameter.VerticalSpeed, 0)] }).Problems()
        );

    [Fact]
    public void A_tolerance_given_twice_for_one_kind_of_segment_is_refused()
    {
        Assert.Equal(
            ["The altitude tolerance is given twice for all segments."],
            (Good with { Tolerances = [new(Parameter.Altitude, 100), new(Parameter.Altitude, 50)] }).Problems()
        );
        Assert.Equal(
            ["The heading tolerance is given twice for level-turn."],
            (
                Good with
                {
                    Tolerances =
                    [
                        new(Parameter.Heading, 10, [SegmentKind.LevelTurn]),
                        new(Parameter.Heading, 5, [SegmentKind.LevelTurn, SegmentKind.ClimbTurn]),
                    ],
                }
            ).Problems()
        );
        Assert.Empty(
            (Good with { Tolerances = [new(Parameter.Altitude, 100), new(Parameter.Altitude, 50, [SegmentKind.LevelTurn])] }).Problems()
        );
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(0.5, 0.7)]
    [InlineData(1.1, 0.7)]
    [InlineData(double.NaN, 0.7)]
    public void Shares_that_contradict_each_other_are_refused(double requiredShare, double closeShare) =>
        Assert.Single((Good with { RequiredShare = requiredShare, CloseShare = closeShare }).Problems());

    [Fact]
    public void A_profile_whose_airspeeds_do_not_rise_is_refused() =>
        Assert.Single((Catalogue.Aircraft[0] with { DrillAirspeedKt = 20 }).Problems());
}
