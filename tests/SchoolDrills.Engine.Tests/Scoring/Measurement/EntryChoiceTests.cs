using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Reconstruction;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Which heading and altitude were meant by those that were held.</summary>
public sealed class EntryChoiceTests
{
    [Theory]
    [InlineData(44.6, 1.5, 45)]
    [InlineData(43, 4, 40)]
    [InlineData(41.2, 2, 40)]
    [InlineData(237, 0.4, 237)]
    [InlineData(358.5, 2, 360)]
    [InlineData(1.9, 2, 360)]
    [InlineData(224.5, 1, 225)]
    public void A_heading_in_tens_is_likelier_than_one_in_fives_unless_what_was_held_says_so(double held, double sigma, double meant) =>
        Assert.Equal(0, Angles.DifferenceDeg(EntryChoice.Heading(held, sigma).HeadingDeg, meant), 6);

    [Theory]
    [InlineData(3010, 25, 3000, 3000)]
    [InlineData(3075, 25, 3000, 3100)]
    [InlineData(3520, 25, 3000, 3500)]
    [InlineData(2490, 25, 2500, 2500)]
    [InlineData(3060, 100, 3000, 3000)]
    public void An_altitude_in_hundreds_and_the_drills_own_are_likeliest(double held, double sigma, double template, double meant) =>
        Assert.Equal(meant, EntryChoice.Altitude(held, sigma, template).AltitudeFt);

    [Fact]
    public void The_sigma_covers_what_was_meant_where_it_is_drawn_as_the_model_says()
    {
        var random = new Random(11);
        int headings = 0,
            altitudes = 0;
        const int draws = 2000;
        for (var k = 0; k < draws; k++)
        {
            double headingDeg = 10 * random.Next(1, 37),
                sigmaDeg = 0.8 + (4 * random.NextDouble());
            var (chosenDeg, openDeg) = EntryChoice.Heading(headingDeg + (sigmaDeg * SyntheticFlight.Gaussian(random)), sigmaDeg);
            if (Math.Abs(Angles.DifferenceDeg(chosenDeg, headingDeg)) <= Math.Max(0.5, 2 * openDeg))
                headings++;
            double altitudeFt = 100 * random.Next(20, 60),
                sigmaFt = 20 + (100 * random.NextDouble());
            var (chosenFt, openFt) = EntryChoice.Altitude(altitudeFt + (sigmaFt * SyntheticFlight.Gaussian(random)), sigmaFt, 3000);
            if (Math.Abs(chosenFt - altitudeFt) <= Math.Max(1, 2 * openFt))
                altitudes++;
        }

        Assert.InRange(headings / (double)draws, 0.9, 1);
        Assert.InRange(altitudes / (double)draws, 0.9, 1);
    }

    private static double SyntheticGaussian(Random random) => Reconstruction.SyntheticFlight.Gaussian(random);
}
