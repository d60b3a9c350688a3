using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using Xunit;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class SchoolPriorTests
{
    private static readonly SegmentGroup Like = new(SegmentKind.ClimbTurn, Parameter.Altitude, 3, null, HasAirData: false);

    /// <summary>Beta(½, ½) is the arcsine distribution: its quantile is sin²(πp/2).</summary>
    [Fact]
    public void Without_data_the_interval_is_that_of_the_arcsine_distribution()
    {
        var belief = SchoolPrior.Jeffreys.With(0, 0);
        Assert.Equal(0.5, belief.Mean, 1e-12);
        Assert.Equal(Math.Pow(Math.Sin(Math.PI * 0.05), 2), belief.InverseCumulativeDistribution(0.1), 1e-9);
        Assert.Equal(Math.Pow(Math.Sin(Math.PI * 0.45), 2), belief.InverseCumulativeDistribution(0.9), 1e-9);
    }

    /// <summary>Beta(1, n + 1) has the quantile 1 − (1 − p)^(1/(n + 1)); its mean is Laplace's rule of succession, 1/(n + 2).</summary>
    [Fact]
    public void None_of_eight_not_met_after_a_flat_prior()
    {
        var belief = new SchoolPrior(0.5, 2, 20).With(0, 8);
        Assert.Equal(0.1, belief.Mean, 1e-12);
        Assert.Equal(1 - Math.Pow(0.9, 1 / 9.0), belief.InverseCumulativeDistribution(0.1), 1e-9);
        Assert.Equal(1 - Math.Pow(0.1, 1 / 9.0), belief.InverseCumulativeDistribution(0.9), 1e-9);
    }

    /// <summary>
    /// One failure of one leaves Beta(3/2, ½), whose distribution is
    /// (2/π)(θ − sin θ cos θ) at sin²θ.
    /// </summary>
    [Fact]
    public void One_of_one_not_met_after_Jeffreys_prior()
    {
        var belief = SchoolPrior.Jeffreys.With(1, 1);
        Assert.Equal(0.1, Distribution(belief.InverseCumulativeDistribution(0.1)), 1e-9);
        Assert.Equal(0.9, Distribution(belief.InverseCumulativeDistribution(0.9)), 1e-9);

        static double Distribution(double x)
        {
            var angle = Math.Asin(Math.Sqrt(x));
            return 2 / Math.PI * (angle - (Math.Sin(angle) * Math.Cos(angle)));
        }
    }

    [Fact]
    public void Four_others_are_no_school() =>
        Assert.Equal(SchoolPrior.Jeffreys, SchoolPrior.Of(Enumerable.Repeat(new SegmentTally(Like, 10, 10, 2), 4)));

    /// <summary>By hand: 38 of 190, half a sample added to each side: 38.5 of 191.</summary>
    [Fact]
    public void Students_who_are_alike_make_a_strong_prior()
    {
        var prior = SchoolPrior.Of(Enumerable.Repeat(new SegmentTally(Like, 10, 10, 2), 19));
        Assert.Equal(38.5 / 191, prior.NotMetShare, 1e-12);
        Assert.Equal((20, 19), (prior.Strength, prior.Students));
    }

    [Fact]
    public void Students_who_are_all_or_nothing_make_a_weak_one() =>
        Assert.Equal(
            1,
            SchoolPrior.Of(Enumerable.Range(0, 20).Select(i => new SegmentTally(Like, 10, 10, i % 2 == 0 ? 10 : 0))).Strength,
            1e-9
        );

    /// <summary>By the design effect: four segments of one attempt, correlated by 0.3, count 4 / (1 + 3 · 0.3).</summary>
    [Fact]
    public void Segments_of_one_attempt_count_as_fewer()
    {
        Assert.Equal(4 / 1.9, new SegmentTally(Like, 1, 4, 2).Samples, 1e-12);
        Assert.Equal(4, new SegmentTally(Like, 4, 4, 2).Samples, 1e-12);
    }

    [Theory]
    [InlineData(3)]
    [InlineData(8)]
    public void The_strength_found_is_that_of_the_simulated_school(double strength)
    {
        var random = new Random(6);
        var found = Enumerable
            .Range(0, 200)
            .Select(_ =>
                SchoolPrior
                    .Of(
                        Enumerable
                            .Range(0, 60)
                            .Select(_ =>
                            {
                                var share = Students.OfDay(random, 0.3, strength);
                                return new SegmentTally(Like, 40, 40, Enumerable.Range(0, 40).Count(_ => random.NextDouble() < share));
                            })
                    )
                    .Strength
            )
            .Order()
            .ElementAt(100);
        Assert.InRange(found, 0.85 * strength, 1.15 * strength);
    }
}
