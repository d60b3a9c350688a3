using MathNet.Numerics.Distributions;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Verdicts weighed by what the measurement may be off by.</summary>
public sealed class VerdictChancesTests
{
    [Fact]
    public void The_errors_are_the_middles_of_nine_equal_parts_of_the_normal_distribution()
    {
        for (var k = 0; k < 9; k++)
            Assert.Equal(Normal.InvCDF(0, 1, ((2 * k) + 1) / 18.0), VerdictChances.Errors[k], 0.001);
    }

    [Fact]
    public void The_worst_of_two_is_met_only_where_both_are()
    {
        var worst = VerdictChances.Worst([new(0.8, 0.2, 0), new(0.5, 0.3, 0.2)]);
        Assert.Equal(0.4, worst.Met, 1e-9);
        Assert.Equal(0.2, worst.NotMet, 1e-9);
        Assert.Equal(0.4, worst.Close, 1e-9);
    }

    [Fact]
    public void A_start_far_inside_its_tolerance_is_certainly_met()
    {
        var (verdict, _, chances) = Judge.OnTiming(1, 5, sigmaS: 1);
        Assert.Equal(Verdict.Met, verdict);
        Assert.Equal(1, chances!.Value.Met, 1e-9);
    }

    [Fact]
    public void A_start_that_may_be_met_or_far_out_has_no_verdict()
    {
        var (verdict, why, _) = Judge.OnTiming(7, 5, sigmaS: 10);
        Assert.Equal(Verdict.NotMeasured, verdict);
        Assert.StartsWith("Too close to call with this recording: ", why, StringComparison.Ordinal);
    }

    [Fact]
    public void The_less_sure_a_measurement_the_less_sure_its_verdict()
    {
        var chance = new[] { 0.1, 1, 3 }.Select(sigmaS => Judge.OnTiming(4, 5, sigmaS).Chances!.Value.Met).ToArray();
        Assert.Equal(chance.OrderDescending(), chance);
        Assert.True(chance[0] > chance[2]);
    }

    [Fact]
    public void A_segment_of_two_open_verdicts_has_none()
    {
        var open = new VerdictChances(0.6, 0.4, 0);
        var (verdict, chance) = Judge.OnSegment([(Parameter.Altitude, open), (Parameter.Heading, new(0.6, 0.1, 0.3))]);
        Assert.Equal(Verdict.NotMeasured, verdict);
        Assert.Null(chance);
    }
}
