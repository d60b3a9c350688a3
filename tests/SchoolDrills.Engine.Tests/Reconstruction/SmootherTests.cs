using SchoolDrills.Engine.Reconstruction;
using Xunit;

namespace SchoolDrills.Engine.Tests.Reconstruction;

public sealed class SmootherTests
{
    [Theory]
    [InlineData(0.1)]
    [InlineData(1)]
    [InlineData(5)]
    public void A_steady_rate_is_unchanged_at_any_sampling(double stepS)
    {
        double[] timeS = [.. Enumerable.Range(0, 200).Select(i => i * stepS)];
        var smooth = Smoother.Smooth(timeS, Array.ConvertAll(timeS, t => 100 + (46.3 * t)), 0.5, 0.5, 4 * Math.Max(stepS, 2));
        for (var i = 0; i < timeS.Length; i++)
        {
            Assert.Equal(100 + (46.3 * timeS[i]), smooth.Value[i], 1e-3);
            Assert.Equal(46.3, smooth.Rate[i], 1e-3);
        }
    }

    [Fact]
    public void Noise_is_reduced_and_the_sigma_matches_what_is_left()
    {
        var random = new Random(23);
        double[] timeS = [.. Enumerable.Range(0, 2000).Select(i => (double)i)];
        static double Truth(double t) => 300 * Math.Sin(t / 60);
        var smooth = Smoother.Smooth(timeS, Array.ConvertAll(timeS, t => Truth(t) + (Gaussian(random) * 2)), 2, 0.05, 10);
        var errors = timeS.Select((t, i) => smooth.Value[i] - Truth(t)).ToArray();
        Assert.True(Math.Sqrt(errors.Average(e => e * e)) < 1.2);
        Assert.InRange(errors.Where((e, i) => Math.Abs(e) <= 2 * smooth.ValueSigma[i]).Count() / 2000.0, 0.9, 1);
    }

    [Fact]
    public void Nothing_is_carried_across_a_gap_and_a_missing_value_is_bridged_inside_a_run()
    {
        double[] timeS = [0, 1, 2, 3, 4, 5, 100, 101, 102, 103];
        double[] values = [0, 1, double.NaN, 3, 4, 5, 500, 500, 500, 500];
        var smooth = Smoother.Smooth(timeS, values, 0.1, 0.1, 10);
        Assert.Equal(2, smooth.Value[2], 0.05);
        Assert.Equal(5, smooth.Value[5], 0.05);
        Assert.Equal(500, smooth.Value[6], 0.05);
        Assert.Equal(0, smooth.Rate[6], 0.05);
    }

    /// <summary>
    /// The same linear Gaussian model solved as one problem of least squares with scipy 1.10.1. Unknowns: value, rate and acceleration at
    /// each of the twelve times. Rows, each divided by its standard deviation (Cholesky factor of the inverse covariance): the first
    /// state against (first value, slope to the last value among the three that follow, 0) with variances 400 σ²; each state against
    /// F times the one before, F = [1 d d²/2; 0 1 d; 0 0 1], with Q = q² [d⁵/20 d⁴/8 d³/6; d⁴/8 d³/3 d²/2; d³/6 d²/2 d]; each measured
    /// value against its state with variance σ² / min(1, time since the sample before). Solved by scipy.linalg.lstsq, sigmas from the
    /// inverse of MᵀM. σ = 0.8, q = 0.6.
    /// </summary>
    [Fact]
    public void The_recursion_equals_one_large_least_squares_problem()
    {
        double[] timeS = [0, 1, 2, 2.5, 3.5, 5, 6, 7.5, 8, 9, 10, 12];
        double[] values = [100.2, 101.9, 104.1, double.NaN, 109.0, 116.8, 121.5, 126.2, 128.4, 130.1, 131.7, 131.9];
        (double Value, double Rate, double Acceleration, double ValueSigma, double RateSigma)[] reference =
        [
            (100.177416, 0.992904, 1.008619, 0.733144, 0.947816),
            (101.674816, 2.001926, 1.008588, 0.495883, 0.465025),
            (104.178799, 3.001005, 0.976056, 0.529417, 0.323279),
            (105.799126, 3.475058, 0.912880, 0.532432, 0.317961),
            (109.692905, 4.264934, 0.625895, 0.519649, 0.316175),
            (116.516159, 4.630822, -0.165192, 0.492222, 0.311192),
            (120.983964, 4.232808, -0.594816, 0.485483, 0.302488),
            (126.539465, 3.118286, -0.828514, 0.471438, 0.304017),
            (127.993945, 2.697741, -0.851178, 0.464515, 0.318141),
            (130.263358, 1.839896, -0.859618, 0.486168, 0.347634),
            (131.673095, 0.979038, -0.862632, 0.566586, 0.341901),
            (131.903108, -0.749723, -0.864963, 0.783294, 0.955502),
        ];
        var smooth = Smoother.Smooth(timeS, values, 0.8, 0.6, 10);
        for (var i = 0; i < reference.Length; i++)
        {
            Assert.Equal(reference[i].Value, smooth.Value[i], 2e-5);
            Assert.Equal(reference[i].Rate, smooth.Rate[i], 2e-5);
            Assert.Equal(reference[i].Acceleration, smooth.Acceleration[i], 2e-5);
            Assert.Equal(reference[i].ValueSigma, smooth.ValueSigma[i], 2e-5);
            Assert.Equal(reference[i].RateSigma, smooth.RateSigma[i], 2e-5);
        }
    }

    private static double Gaussian(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
