using SchoolDrills.Engine.Flight;
using Xunit;

namespace SchoolDrills.Engine.Tests.Flight;

public sealed class AnglesTests
{
    [Theory]
    [InlineData(0, 360)]
    [InlineData(360, 360)]
    [InlineData(-10, 350)]
    [InlineData(725, 5)]
    public void North_is_360(double deg, double expected) => Assert.Equal(expected, Angles.NormalizeDeg(deg));

    [Theory]
    [InlineData(10, 350, 20)]
    [InlineData(350, 10, -20)]
    [InlineData(180, 0, 180)]
    [InlineData(0, 180, 180)]
    public void The_shorter_way_crosses_north(double to, double from, double expected) => Assert.Equal(expected, Angles.DifferenceDeg(to, from));

    [Fact]
    public void Unwrapped_directions_run_on_through_north_and_over_what_is_missing() =>
        Assert.Equal([350, 355, double.NaN, 365, 370, 362], Angles.UnwrapDeg([350, 355, double.NaN, 5, 10, 2]));
}
