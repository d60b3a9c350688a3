using MathNet.Numerics.Distributions;
using SchoolDrills.Engine.Progress;
using Xunit;
using static SchoolDrills.Engine.Tests.Progress.Students;

namespace SchoolDrills.Engine.Tests.Progress;

public sealed class ForecastTests
{
    private const double StandardShare = 0.85;

    private static Forecast Of(params double[] shares) => Forecast.Of(TrendOf(Points(shares)), StandardShare);

    [Theory]
    [InlineData("too little data: 4 of 5 attempts", 0.3, 0.4, 0.5, 0.6)]
    [InlineData("no gain so far to look ahead from", 0.5, 0.6, 0.4, 0.5, 0.55)]
    [InlineData("no gain so far to look ahead from", 0.7, 0.6, 0.5, 0.4, 0.3)]
    [InlineData("already at standard", 0.7, 0.9, 1.0, 0.9, 1.0, 1.0)]
    [InlineData("the standard may be more than 40 attempts away", 0.20, 0.21, 0.22, 0.24, 0.25, 0.26)]
    public void No_forecast_is_given_without_reason_to(string reason, params double[] shares) =>
        Assert.Equal(new Forecast(null, null, reason), Of(shares));

    /// <summary>
    /// By hand: gaps to 1 shrink by a tenth an attempt from 0.6; after the eighth 0.6 · 0.9⁷ = 0.287 is left. To the 0.15 of the standard
    /// another ln(0.287 / 0.15) / ln(1 / 0.9) = 6.2 attempts are needed.
    /// </summary>
    [Fact]
    public void A_clean_learning_curve_is_carried_on()
    {
        var shares = Enumerable.Range(0, 8).Select(i => 1 - (0.6 * Math.Pow(0.9, i)));
        var points = shares.Select((s, i) => new SharePoint(Guid.NewGuid(), Today.AddDays(i), s, 200, ShareInterval.OfSamples(s, 200)));
        var forecast = Forecast.Of(TrendOf([.. points]), StandardShare);
        Assert.InRange(forecast.Attempts!.Value, 5, 8);
        Assert.InRange(6.2, forecast.Interval!.Value.Lo, forecast.Interval.Value.Hi);
    }

    [Fact]
    public void The_interval_holds_the_true_number_of_attempts_four_times_in_five()
    {
        var random = new Random(7);
        var (spoke, covered) = (0, 0);
        for (var i = 0; i < 2500; i++)
        {
            var (ceiling, start) = (0.93 + (0.07 * random.NextDouble()), 0.1 + (0.7 * random.NextDouble()));
            var rate = 0.02 * Math.Pow(40, random.NextDouble());
            var attempts = random.Next(5, 13);
            var dayVariance = 0.005 * Math.Pow(30, random.NextDouble());
            var points = Enumerable
                .Range(0, attempts)
                .Select(n => Attempt(random, n, ceiling - ((ceiling - start) * Math.Exp(-rate * n)), dayVariance));
            if (Forecast.Of(TrendOf([.. points]), StandardShare).Interval is not { } interval)
                continue;
            var truth = Math.Max(0, (Math.Log((ceiling - start) / (ceiling - StandardShare)) / rate) - (attempts - 1));
            spoke++;
            covered += interval.Lo <= truth && truth <= interval.Hi ? 1 : 0;
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"spoke {spoke}, covered {covered / (double)spoke:0.000}");
        Assert.True(spoke > 300, $"It spoke for {spoke} students only.");
        Assert.InRange(covered / (double)spoke, 0.75, 0.85);
    }

    private static SharePoint Attempt(Random random, int number, double mean, double dayVariance)
    {
        var samples = random.Next(8, 41);
        var share = Binomial.Sample(random, OfDay(random, mean, (1 / dayVariance) - 1), samples) / (double)samples;
        return new(Guid.NewGuid(), Today.AddDays(number), share, samples, ShareInterval.OfSamples(share, samples));
    }
}
