using SchoolDrills.Engine.Reconstruction;
using Xunit;

namespace SchoolDrills.Engine.Tests.Reconstruction;

public sealed class SmootherTests
{
    [Theory]
    [InlineData(0.1)]
    [InlineData(1)]
    [InlineData(5)]
    public void A_steady_rate_comes_out_as_it_is_at_any_sampling(double stepS)
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
    public void Noise_is_less_after_than_before_and_its_sigma_is_honest()
    {
        var random = new Random(23);
        double[] timeS = [.. Enumerable.Range(0, 2000).Select(i => (double)i)];
        double Truth(double t) => 300 * Math.Sin(t / 60);
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

    private static double Gaussian(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
