using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using SchoolDrills.Engine.Flight;
using Xunit;

namespace SchoolDrills.Engine.Tests.Flight;

public sealed class AnglesTests
{
    [Theory]
    [InlineData(0, 360)]
    [InlineData(360, 360)]
    [InlineData(-360, 360)]
    [InlineData(-10, 350)]
    [InlineData(725, 5)]
    [InlineData(double.NaN, double.NaN)]
    public void North_is_360(double deg, double expected) => Assert.Equal(expected, Angles.NormalizeDeg(deg));

    [Theory]
    [InlineData(10, 350, 20)]
    [InlineData(350, 10, -20)]
    [InlineData(180, 0, 180)]
    [InlineData(0, 180, 180)]
    [InlineData(double.NaN, 180, double.NaN)]
    public void The_shorter_way_crosses_north(double to, double from, double expected) =>
        Assert.Equal(expected, Angles.DifferenceDeg(to, from));

    [Fact]
    public void Unwrapped_directions_continue_through_north_and_over_missing_values() =>
        Assert.Equal([350, 355, double.NaN, 365, 370, 362], Angles.UnwrapDeg([350, 355, double.NaN, 5, 10, 2]));

    [Property(MaxTest = 500, Replay = Draw.Seed)]
    public Property The_shorter_way_leads_there_and_back_whichever_way_the_rose_is_turned() =>
        Draw.Always(
            from start in Draw.Between(-720, 720)
            from way in Draw.Between(-179.9, 179.9)
            from turn in Draw.Between(-1000, 1000)
            select (start, way, turn),
            drawn =>
            {
                var (start, way, turn) = drawn;
                Assert.Equal(way, Angles.DifferenceDeg(Angles.NormalizeDeg(start + way), start), 1e-9);
                Assert.Equal(-way, Angles.DifferenceDeg(start, start + way), 1e-9);
                Assert.Equal(way, Angles.DifferenceDeg(start + way + turn, start + turn), 1e-9);
                Assert.InRange(Angles.NormalizeDeg(start), double.Epsilon, 360);
            }
        );

    [Property(MaxTest = 200, Replay = Draw.Seed)]
    public Property Unwrapping_gives_back_a_turn_that_was_cut_at_north() =>
        Draw.Always(
            from start in Draw.Between(1, 360)
            from steps in Draw.Between(-170, 170).ListOf(30)
            select (start, steps),
            drawn =>
            {
                var turned = new List<double> { drawn.start };
                turned.AddRange(drawn.steps.Select((_, i) => drawn.start + drawn.steps.Take(i + 1).Sum()));
                var unwrapped = Angles.UnwrapDeg([.. turned.Select(Angles.NormalizeDeg)]);
                for (var i = 0; i < turned.Count; i++)
                    Assert.Equal(turned[i], unwrapped[i], 1e-9);
            }
        );
}
