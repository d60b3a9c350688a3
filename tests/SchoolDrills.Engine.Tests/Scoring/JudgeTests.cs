using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>
/// Examiners expect prompt and consistent correction rather than none out of tolerance (common practice; ACS wording from memory).
/// </summary>
public sealed class JudgeTests
{
    private static readonly ToleranceStandard Standard = Catalogue.Standards.Single(s => s.Slug == "instrument-rating");

    [Fact]
    public void Never_outside_is_met() => Assert.Equal(Verdict.Met, Judge.OnDeviation(Altitude([], outsideS: 0), Standard).Verdict);

    [Fact]
    public void A_small_exceedance_put_right_at_once_does_not_fail() =>
        Assert.Equal(Verdict.Met, Judge.OnDeviation(Altitude([new Exceedance(10, 14, 130, 12)], outsideS: 4), Standard).Verdict);

    [Fact]
    public void One_that_is_left_does() =>
        Assert.Equal(Verdict.NotMet, Judge.OnDeviation(Altitude([new Exceedance(10, 40, 180, 20)], outsideS: 30), Standard).Verdict);

    [Fact]
    public void Twice_the_tolerance_fails_however_short() =>
        Assert.Equal(Verdict.NotMet, Judge.OnDeviation(Altitude([new Exceedance(10, 12, -210, 11)], outsideS: 2), Standard).Verdict);

    [Fact]
    public void A_measurement_too_coarse_gives_no_verdict() =>
        Assert.Equal(Verdict.NotMeasured, Judge.OnDeviation(Altitude([], outsideS: 0) with { Sigma = 60 }, Standard).Verdict);

    [Fact]
    public void Rates_alone_do_not_fail_a_segment() =>
        Assert.Equal(
            Verdict.Close,
            Judge
                .OnSegment([(Parameter.Altitude, new VerdictChances(1, 0, 0)), (Parameter.VerticalSpeed, new VerdictChances(0, 0, 1))])
                .Verdict
        );

    [Fact]
    public void The_mirror_of_a_deviation_is_judged_alike()
    {
        var high = Altitude([new Exceedance(10, 30, 140, 20)], outsideS: 20);
        Assert.Equal(
            Judge.OnDeviation(high, Standard),
            Judge.OnDeviation(high with { Worst = -140, Exceedances = [new Exceedance(10, 30, -140, 20)] }, Standard)
        );
    }

    private static Deviation Altitude(IReadOnlyList<Exceedance> exceedances, double outsideS) =>
        new(Parameter.Altitude, 100, 5, 40, 10, 50, exceedances.Count == 0 ? 80 : exceedances[0].Worst, 0, 100, outsideS, exceedances);
}
