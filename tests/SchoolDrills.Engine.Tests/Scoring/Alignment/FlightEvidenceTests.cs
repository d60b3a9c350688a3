using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

public sealed class FlightEvidenceTests
{
    [Theory]
    // Student's t with three degrees of freedom: dt(0, 3) = 0.36755 and dt(2, 3) = 0.06751, computed with the density's closed form
    // 2 / (π √3 (1 + t²/3)²); tables of the distribution give the same.
    [InlineData(0, 0.36755)]
    [InlineData(2, 0.06751)]
    [InlineData(-5, 0.00422)]
    public void The_density_is_Students_with_three_degrees_of_freedom(double z, double density) =>
        Assert.Equal(density, Math.Exp(Student3.LogDensity(z)), 5);

    [Fact]
    public void A_held_rate_speaks_for_itself_and_against_others()
    {
        var flown = FlownByHand.TimedTurns();
        var grid = FlownByHand.Grid(flown.Reconstruct().State);
        var (from, to) = (grid.IndexAt(flown.StartsS[5] + 5), grid.IndexAt(flown.StartsS[6] - 5));
        double Of(double rateDegPerS) => Between(grid.Evidence.OfTurn(rateDegPerS));
        double Between(double[] sum) => sum[to] - sum[from];
        Assert.True(Of(3) > 0, $"{Of(3)}");
        Assert.True(Of(1.5) < Of(3));
        Assert.True(Of(-3) < Of(1.5));
        Assert.True(Between(grid.Evidence.OfClimb(500)) < Between(grid.Evidence.OfClimb(0)));
    }
}
