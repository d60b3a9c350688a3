using SchoolDrills.Engine.Flight;
using Xunit;

namespace SchoolDrills.Engine.Tests.Flight;

public sealed class AtmosphereTests
{
    /// <summary>Source: ICAO Doc 7488/3 by its constants and equations: ft, °C, hPa, inHg, kg/m³, σ, 1/√σ, speed of sound kt.</summary>
    [Theory]
    [InlineData(0, 15.000, 1013.25, 29.9213, 1.22500, 1.00000, 1.00000, 661.48)]
    [InlineData(2000, 11.038, 942.13, 27.8211, 1.15490, 0.94277, 1.02990, 656.91)]
    [InlineData(5000, 5.094, 843.07, 24.8959, 1.05555, 0.86167, 1.07728, 650.01)]
    [InlineData(8000, -0.850, 752.62, 22.2250, 0.96287, 0.78602, 1.12794, 643.03)]
    [InlineData(10000, -4.812, 696.82, 20.5770, 0.90464, 0.73848, 1.16367, 638.33)]
    [InlineData(15000, -14.718, 571.82, 16.8858, 0.77082, 0.62924, 1.26064, 626.44)]
    [InlineData(20000, -24.624, 465.63, 13.7501, 0.65269, 0.53281, 1.36998, 614.32)]
    public void The_standard_atmosphere_is_the_published_one(double ft, double celsius, double hpa, double inHg, double density, double ratio, double root, double soundKt)
    {
        Assert.Equal(celsius, Atmosphere.TemperatureC(ft), 0.00051);
        Assert.Equal(hpa, Atmosphere.PressureHpa(ft), 0.0051);
        Assert.Equal(inHg, Atmosphere.PressureHpa(ft) / Units.HpaPerInHg, 0.000051);
        Assert.Equal(density, Atmosphere.DensityKgPerM3(ft), 0.0000051);
        Assert.Equal(ratio, Atmosphere.DensityRatio(ft), 0.0000051);
        Assert.Equal(root, 1 / Math.Sqrt(Atmosphere.DensityRatio(ft)), 0.0000051);
        Assert.Equal(soundKt, Atmosphere.SpeedOfSoundKt(Atmosphere.TemperatureC(ft)), 0.0051);
    }

    /// <summary>Source: ICAO Doc 7488/3: −56.5 °C above 11,000 m; 226.32 hPa at the tropopause (value from memory).</summary>
    [Fact]
    public void Above_the_tropopause_temperature_stays()
    {
        Assert.Equal(-56.5, Atmosphere.TemperatureC(Units.MToFt(15_000)), 6);
        Assert.Equal(226.32, Atmosphere.PressureHpa(Units.MToFt(11_000)), 0.0051);
    }

    /// <summary>Source: pilots' rule PA = elevation + 1000 (29.92 − QNH), with the exact values by Doc 7488.</summary>
    [Theory]
    [InlineData(2000, 29.42, 2467)]
    [InlineData(2000, 30.12, 1817)]
    [InlineData(1000, 28.92, 1939)]
    public void Pressure_altitude_from_elevation_and_setting(double elevationFt, double qnhInHg, double pressureAltitudeFt) =>
        Assert.Equal(pressureAltitudeFt, Atmosphere.PressureAltitudeFromIndicatedFt(elevationFt, qnhInHg * Units.HpaPerInHg), 0.51);

    /// <summary>Source: density altitude by Doc 7488 in dry air.</summary>
    [Theory]
    [InlineData(5000, 30, 7801)]
    [InlineData(2000, 30, 4161)]
    [InlineData(8000, 20, 10362)]
    public void Density_altitude_of_a_hot_day(double pressureAltitudeFt, double celsius, double densityAltitudeFt) =>
        Assert.Equal(densityAltitudeFt, Atmosphere.DensityAltitudeFt(pressureAltitudeFt, celsius), 0.51);

    /// <summary>Source: near sea level 1 hPa is 27.35 ft, 1 inHg 926 ft, by Doc 7488.</summary>
    [Fact]
    public void A_hectopascal_near_sea_level()
    {
        Assert.Equal(27.35, Atmosphere.IndicatedAltitudeFt(0, 1013.75) - Atmosphere.IndicatedAltitudeFt(0, 1012.75), 0.051);
        Assert.Equal(926, Atmosphere.IndicatedAltitudeFt(0, 30.42 * Units.HpaPerInHg) - Atmosphere.IndicatedAltitudeFt(0, 29.42 * Units.HpaPerInHg), 1.0);
    }

    [Fact]
    public void A_higher_setting_shows_a_higher_altitude_and_back_again()
    {
        var random = new Random(7);
        for (var i = 0; i < 200; i++)
        {
            double pressureAltitudeFt = random.Next(-1000, 20000), qnhHpa = 960 + (100 * random.NextDouble());
            var shownFt = Atmosphere.IndicatedAltitudeFt(pressureAltitudeFt, qnhHpa);
            Assert.Equal(pressureAltitudeFt, Atmosphere.PressureAltitudeFromIndicatedFt(shownFt, qnhHpa), 1e-6);
            Assert.True(Atmosphere.IndicatedAltitudeFt(pressureAltitudeFt, qnhHpa + 1) > shownFt);
            Assert.Equal(pressureAltitudeFt, Atmosphere.PressureAltitudeFt(Atmosphere.PressureHpa(pressureAltitudeFt)), 1e-6);
        }
    }

    /// <summary>Source: about 4 % of height for each 10 °C (common practice).</summary>
    [Fact]
    public void Cold_air_makes_true_height_less_by_four_percent_for_ten_degrees() =>
        Assert.Equal(0.04, 1 - (Atmosphere.TrueHeightFt(3000, -10, 3000) / 3000), 0.005);

    [Fact]
    public void Beyond_the_layers_there_is_an_error_not_a_guess() => Assert.Throws<ArgumentOutOfRangeException>(() => Atmosphere.PressureHpa(70_000));
}
