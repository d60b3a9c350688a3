using SchoolDrills.Engine.Flight;
using Xunit;

namespace SchoolDrills.Engine.Tests.Flight;

public sealed class UnitsTests
{
    /// <summary>
    /// Source: NIST Special Publication 811, appendix B, factors for units (foot, mile, knot, kilometre per hour, inch of mercury).
    /// </summary>
    [Fact]
    public void Factors_are_the_published_ones()
    {
        Assert.Equal(3.280840, Units.FtPerM, 0.0000005);
        Assert.Equal(0.5144444, Units.MpsPerKt, 0.00000005);
        Assert.Equal(1, Units.MpsPerKt * Units.KtPerMps, 1e-15);
        Assert.Equal(0.2777778 / 0.5144444, Units.KtPerKmh, 0.0000002);
        Assert.Equal(0.44704 / 0.5144444, Units.KtPerMph, 0.0000002);
        Assert.Equal(0.00508, 1 / Units.FpmPerMps, 1e-15);
        Assert.Equal(33.86389, Units.HpaPerInHg, 0.000005);
    }

    /// <summary>Source: a slope of 3° is 318.4 ft a nautical mile: 477.7 ft/min at 90 kt, 636.9 at 120.</summary>
    [Fact]
    public void A_slope_of_three_degrees_at_the_speeds_of_an_approach()
    {
        var slope = Math.Tan(Units.DegToRad(3));
        Assert.Equal(318.4, Units.MToFt(Units.MPerNm * slope), 0.051);
        Assert.Equal(477.7, Units.KtToFpm(90) * slope, 0.051);
        Assert.Equal(636.9, Units.KtToFpm(120) * slope, 0.051);
    }
}
