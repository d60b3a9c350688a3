using SchoolDrills.Accuracy.Flown;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>What a fit gives for numbers drawn from the distribution that it assumes.</summary>
public sealed class LikelihoodTests
{
    private readonly Random random = new(3);

    [Fact]
    public void The_scale_of_students_distribution_is_found() =>
        Assert.InRange(Likelihood.StudentScale([.. Enumerable.Range(0, 20_000).Select(_ => 5 * Student())], 100), 4.85, 5.15);

    [Fact]
    public void The_share_of_ends_that_aim_at_the_entry_is_found()
    {
        var ends = Enumerable
            .Range(0, 4000)
            .Select(i => i % 10 < 7 ? (40 * random.Gaussian(), 3 * Student()) : (3 * Student(), 40 * random.Gaussian()))
            .ToList();
        var (scale, fromEntry) = Likelihood.Ends(ends, 60);
        Assert.InRange(scale, 2.8, 3.2);
        Assert.InRange(fromEntry, 0.66, 0.74);
    }

    [Fact]
    public void The_scatter_of_straights_by_the_clock_and_as_they_come_is_found()
    {
        var straights = Enumerable
            .Range(0, 4000)
            .Select(i => (i % 10 < 8 ? Math.Max(1, 60 + (6 * Student())) : 60 * Math.Exp(0.6 * random.Gaussian()), 60.0))
            .ToList();
        var (scatter, untimed, wide) = Likelihood.Lengths(straights);
        Assert.InRange(scatter, 0.09, 0.11);
        Assert.InRange(untimed, 0.15, 0.25);
        Assert.InRange(wide, 0.5, 0.7);
    }

    [Fact]
    public void Deviations_that_fade_by_a_share_each_step_last_as_long_as_their_sum_says()
    {
        // A first-order process that keeps 0.6 of itself each step: (1 + 0.6) / (1 - 0.6) steps.
        var runs = Enumerable.Range(0, 50).Select(_ => Fading(0.6, 400)).ToList();
        Assert.InRange(Likelihood.CorrelationS(runs, 10, 2), 7, 8.5);
    }

    private double[] Fading(double keep, int steps)
    {
        var run = new double[steps];
        run[0] = random.Gaussian();
        for (var i = 1; i < steps; i++)
            run[i] = (keep * run[i - 1]) + (Math.Sqrt(1 - (keep * keep)) * random.Gaussian());
        return run;
    }

    /// <summary>Student's t with three degrees of freedom: a normal number over the root of the mean of three squared ones.</summary>
    private double Student() =>
        random.Gaussian()
        / Math.Sqrt((Math.Pow(random.Gaussian(), 2) + Math.Pow(random.Gaussian(), 2) + Math.Pow(random.Gaussian(), 2)) / 3);
}
