using SchoolDrills.Engine.Flight;
using Xunit;

namespace SchoolDrills.Engine.Tests.Flight;

public sealed class AirspeedTests
{
    /// <summary>Source: compressible relations with the constants of ICAO Doc 7488/3.</summary>
    [Theory]
    [InlineData(90, 2000, 0, 92.68)]
    [InlineData(100, 5000, 0, 107.67)]
    [InlineData(100, 5000, 15, 110.53)]
    [InlineData(100, 8000, 0, 112.68)]
    [InlineData(120, 10000, 0, 139.38)]
    [InlineData(150, 15000, 0, 188.19)]
    public void True_airspeed_of_a_calibrated_one(double calibratedKt, double pressureAltitudeFt, double isaDeviationC, double trueKt) =>
        Assert.Equal(trueKt, Airspeed.TrueFromCalibratedKt(calibratedKt, pressureAltitudeFt, Atmosphere.TemperatureC(pressureAltitudeFt) + isaDeviationC), 0.0061);

    [Fact]
    public void Calibrated_and_true_are_inverses()
    {
        var random = new Random(11);
        for (var i = 0; i < 500; i++)
        {
            double kt = 40 + (260 * random.NextDouble()), ft = random.Next(-1000, 25000), celsius = -40 + (80 * random.NextDouble());
            Assert.Equal(kt, Airspeed.CalibratedFromTrueKt(Airspeed.TrueFromCalibratedKt(kt, ft, celsius), ft, celsius), 1e-6);
        }
    }
}
