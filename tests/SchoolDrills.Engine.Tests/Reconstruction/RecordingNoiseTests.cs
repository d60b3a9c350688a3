using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Tests.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Reconstruction;

public sealed class RecordingNoiseTests
{
    private const double ExpectedM = 0.5,
        JerkMPerS3 = 0.5;

    [Theory]
    [InlineData(0)]
    [InlineData(0.1)]
    [InlineData(0.4)]
    public void A_recording_with_less_noise_than_expected_counts_as_expected(double noiseM) => Assert.Equal(1, Ratio(noiseM, 1));

    /// <summary>
    /// Noise is looked for in steps of 1.4; ten samples a second of one noise say what one of a tenth of its variance says.
    /// </summary>
    [Theory]
    [InlineData(3, 1)]
    [InlineData(5, 1)]
    [InlineData(10, 1)]
    [InlineData(5, 2)]
    [InlineData(5, 0.1)]
    public void White_noise_is_found(double noiseM, double stepS)
    {
        var wanted = noiseM * Math.Sqrt(Math.Min(1, stepS)) / ExpectedM;
        Assert.InRange(Ratio(noiseM, stepS), wanted / 1.4, wanted * 1.4);
    }

    [Fact]
    public void A_few_jumps_are_not_noise()
    {
        var (timeS, eastM, northM) = Circles(0.1, 1);
        for (var i = 50; i < timeS.Length; i += 97)
            eastM[i] += 45;
        Assert.Equal(1, RecordingNoise.Ratio(timeS, [eastM, northM], ExpectedM, JerkMPerS3, 5));
    }

    [Fact]
    public void Noise_is_found_between_gaps()
    {
        var (timeS, eastM, northM) = Circles(5, 1);
        for (var i = 0; i < timeS.Length; i++)
            timeS[i] += 40 * (i / 100);
        Assert.InRange(RecordingNoise.Ratio(timeS, [eastM, northM], ExpectedM, JerkMPerS3, 5), 10 / 1.4, 10 * 1.4);
    }

    /// <summary>
    /// A drift of size s with a time constant of T seconds adds s √(2/T) each √s: 4 m in 60 s 2.4 ft, 8 m in 30 s 6.8 ft, to be found
    /// within a step of 1.4.
    /// </summary>
    [Theory]
    [InlineData(4, 60, 2.4, 3.4)]
    [InlineData(8, 30, 4.5, 9.5)]
    public void A_quick_drift_of_altitude_is_found(double driftM, double timeConstantS, double least, double most)
    {
        var random = new Random(11);
        double[] timeS = [.. Enumerable.Range(0, 900).Select(i => (double)i)];
        var keep = Math.Exp(-1 / timeConstantS);
        var awayM = 0.0;
        var altitudeFt = Array.ConvertAll(
            timeS,
            t =>
            {
                awayM = (keep * awayM) + (driftM * Math.Sqrt(1 - (keep * keep)) * SyntheticFlight.Gaussian(random));
                return 3000 + Units.MToFt(awayM + SyntheticFlight.Gaussian(random));
            }
        );
        Assert.InRange(RecordingNoise.Drift(timeS, altitudeFt, 3.3, 2.4, 1.2, 5), least, most);
    }

    [Fact]
    public void Noise_widens_the_sigmas_enough_to_cover_the_errors()
    {
        SyntheticFlight Flown() => new SyntheticFlight(8, -5).Fly(60).Turn(360).Fly(60).Turn(-360).Fly(60).Turn(180).Fly(60);
        var smooth = SyntheticFlight.Reconstruct(Flown().Record());
        var rough = SyntheticFlight.Reconstruct(Flown().Record().Noisier(7, 5, 20));
        Assert.True(rough.HeadingSigmaDeg > smooth.HeadingSigmaDeg);
        Assert.True(rough.AirspeedSigmaKt > smooth.AirspeedSigmaKt);
        Assert.True(rough.TurnRateSigmaDegPerS > smooth.TurnRateSigmaDegPerS);
        Assert.True(rough.VerticalSpeedSigmaFpm > smooth.VerticalSpeedSigmaFpm);
        Covers(i => Angles.DifferenceDeg(rough.HeadingMagDeg[i], smooth.HeadingMagDeg[i]), rough.HeadingSigmaDeg);
        Covers(i => rough.TurnRateDegPerS[i] - smooth.TurnRateDegPerS[i], rough.TurnRateSigmaDegPerS);
        Covers(i => rough.VerticalSpeedFpm[i] - smooth.VerticalSpeedFpm[i], rough.VerticalSpeedSigmaFpm);
        Covers(i => rough.AirspeedKt[i] - smooth.AirspeedKt[i], rough.AirspeedSigmaKt);

        void Covers(Func<int, double> error, double sigma) =>
            Assert.InRange(Enumerable.Range(0, rough.Count).Count(i => Math.Abs(error(i)) <= 2 * sigma) / (double)rough.Count, 0.9, 1);
    }

    private static double Ratio(double noiseM, double stepS)
    {
        var (timeS, eastM, northM) = Circles(noiseM, stepS);
        return RecordingNoise.Ratio(timeS, [eastM, northM], ExpectedM, JerkMPerS3, Math.Max(5, 4 * stepS));
    }

    /// <summary>Ten minutes of turning at standard rate at 95 kt.</summary>
    private static (double[] TimeS, double[] EastM, double[] NorthM) Circles(double noiseM, double stepS)
    {
        var random = new Random(5);
        double[] timeS = [.. Enumerable.Range(0, (int)(600 / stepS)).Select(i => i * stepS)];
        var radiusM = Units.KtToMps(95) / Units.DegToRad(3);
        double Noise() => noiseM * SyntheticFlight.Gaussian(random);
        return (
            timeS,
            Array.ConvertAll(timeS, t => (radiusM * Math.Cos(Units.DegToRad(3 * t))) + Noise()),
            Array.ConvertAll(timeS, t => (radiusM * Math.Sin(Units.DegToRad(3 * t))) + Noise())
        );
    }
}
