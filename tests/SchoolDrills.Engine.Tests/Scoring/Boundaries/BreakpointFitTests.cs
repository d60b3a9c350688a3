using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>A line that bends into another over four seconds, from a time that is known.</summary>
public sealed class BreakpointFitTests
{
    private const double LengthS = 4,
        BeforePerS = 0.2,
        ChangePerS = 3;

    [Theory]
    [InlineData(30.0, 1.0)]
    [InlineData(31.25, 1.0)]
    [InlineData(27.5, 0.5)]
    [InlineData(33.0, 2.0)]
    public void The_breakpoint_is_found_to_a_quarter_second(double breakS, double intervalS)
    {
        var (timeS, values) = Bent(breakS, intervalS);
        var foundS = BreakpointFit.Start(timeS, values, new(0, 60, 30, LengthS, ChangePerS))?.AtS;
        Assert.Equal(breakS, foundS!.Value, 0.26);
    }

    [Fact]
    public void A_gap_over_the_breakpoint_leaves_it_to_the_flight_either_side()
    {
        var (timeS, values) = Bent(30, 1);
        var kept = Enumerable.Range(0, timeS.Length).Where(i => timeS[i] is < 27 or > 35).ToArray();
        var foundS = BreakpointFit
            .Start([.. kept.Select(i => timeS[i])], [.. kept.Select(i => values[i])], new(0, 60, 30, LengthS, ChangePerS))
            ?.AtS;
        Assert.Equal(30, foundS!.Value, 1.0);
    }

    [Fact]
    public void A_bend_the_other_way_is_none()
    {
        var (timeS, values) = Bent(30, 1);
        Assert.Null(BreakpointFit.Start(timeS, values, new(0, 60, 30, LengthS, -ChangePerS)));
    }

    [Fact]
    public void A_straight_line_has_none()
    {
        double[] timeS = [.. Enumerable.Range(0, 61).Select(i => (double)i)];
        Assert.Null(BreakpointFit.Start(timeS, [.. timeS.Select(t => 0.2 * t)], new(0, 60, 30, LengthS, ChangePerS)));
    }

    private static (double[] TimeS, double[] Values) Bent(double breakS, double intervalS)
    {
        double[] timeS = [.. Enumerable.Range(0, (int)(60 / intervalS) + 1).Select(i => i * intervalS)];
        return (timeS, [.. timeS.Select(t => (BeforePerS * t) + Bend(t - breakS))]);
    }

    /// <summary>The rate grows evenly over <see cref="LengthS"/>, then stays.</summary>
    private static double Bend(double t) =>
        t <= 0 ? 0
        : t < LengthS ? ChangePerS * t * t / (2 * LengthS)
        : ChangePerS * (t - (LengthS / 2));
}
