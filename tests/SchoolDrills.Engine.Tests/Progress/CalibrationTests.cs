using MathNet.Numerics.Distributions;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;
using Xunit;
using static SchoolDrills.Engine.Tests.Progress.Students;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class CalibrationTests
{
    private static IEnumerable<SelfRating> Rated(int daysAgo, params (Verdict Own, Verdict Measured)[] segments)
    {
        var id = Guid.NewGuid();
        return segments.Select(s => new SelfRating(id, Group, Today.AddDays(-daysAgo), s.Own, s.Measured));
    }

    /// <summary>
    /// By hand: biases ½, ¼ and 0 have mean ¼ and standard error ¼/√3; Student's t of two degrees of freedom is 1.8856 at 90 % (any
    /// table): ¼ ± 0.2722.
    /// </summary>
    [Fact]
    public void Three_attempts_have_a_bias_with_the_interval_of_Students_t()
    {
        var calibration = Assert.Single(
            Calibration.Of([
                .. Rated(3, (Verdict.Met, Verdict.Close), (Verdict.Close, Verdict.NotMet)),
                .. Rated(2, (Verdict.Met, Verdict.Close), (Verdict.Met, Verdict.Met)),
                .. Rated(1, (Verdict.NotMet, Verdict.NotMet), (Verdict.Close, Verdict.Close)),
            ])
        );
        Assert.Equal(0.25, calibration.BiasShare!.Value, 1e-12);
        Assert.Equal(0.25 - 0.2722, calibration.Interval!.Value.Lo, 0.0001);
        Assert.Equal(0.25 + 0.2722, calibration.Interval.Value.Hi, 0.0001);
    }

    [Fact]
    public void Two_attempts_are_too_little_data()
    {
        var calibration = Assert.Single(
            Calibration.Of([.. Rated(2, (Verdict.Met, Verdict.NotMet)), .. Rated(1, (Verdict.Met, Verdict.NotMet))])
        );
        Assert.Null(calibration.BiasShare);
        Assert.Equal("too little data: 2 of 3 attempts", calibration.Reason);
    }

    [Fact]
    public void Verdicts_that_agree_throughout_agree_within_their_steps()
    {
        var calibration = Assert.Single(
            Calibration.Of(Enumerable.Range(0, 3).SelectMany(i => Rated(i, (Verdict.Met, Verdict.Met), (Verdict.NotMet, Verdict.NotMet))))
        );
        Assert.Equal(0, calibration.BiasShare);
        Assert.InRange(calibration.Interval!.Value.Hi, 0.05, 0.3);
    }

    [Fact]
    public void Segments_that_one_of_the_two_could_not_tell_are_left_out() =>
        Assert.Empty(Calibration.Of(Rated(1, (Verdict.NotMeasured, Verdict.Met), (Verdict.Met, Verdict.NotMeasured))));

    [Fact]
    public void Unlike_attempts_are_apart()
    {
        var withAirData = Rated(1, (Verdict.Met, Verdict.Met)).Select(r => r with { Group = Group with { HasAirData = true } });
        Assert.Equal(2, Calibration.Of([.. Rated(2, (Verdict.Met, Verdict.Met)), .. withAirData]).Count);
    }

    [Fact]
    public void Four_in_five_intervals_hold_the_true_bias()
    {
        var random = new Random(9);
        var truth = BiasOf([.. Enumerable.Range(0, 20_000).SelectMany(i => Attempt(random, i))]).BiasShare!.Value;
        var covered = ShareOf(
            1500,
            () =>
                BiasOf([.. Enumerable.Range(0, random.Next(3, 12)).SelectMany(i => Attempt(random, i))]).Interval is { } interval
                && interval.Lo <= truth
                && truth <= interval.Hi
        );
        TestContext.Current.TestOutputHelper!.WriteLine($"true {truth:0.000}, covered {covered:0.000}");
        Assert.InRange(covered, 0.75, 0.85);
    }

    private static Calibration BiasOf(List<SelfRating> rated) => Assert.Single(Calibration.Of(rated));

    private static IEnumerable<SelfRating> Attempt(Random random, int daysAgo)
    {
        var mood = Normal.Sample(random, 0.4, 0.4);
        return Rated(
            daysAgo,
            [
                .. Enumerable
                    .Range(0, 5)
                    .Select(_ =>
                    {
                        var flown = Normal.Sample(random, 0, 1);
                        return (Seen(flown + mood + Normal.Sample(random, 0, 0.5)), Seen(flown));
                    }),
            ]
        );

        static Verdict Seen(double quality) =>
            quality switch
            {
                > 0.3 => Verdict.Met,
                > -0.5 => Verdict.Close,
                _ => Verdict.NotMet,
            };
    }
}
