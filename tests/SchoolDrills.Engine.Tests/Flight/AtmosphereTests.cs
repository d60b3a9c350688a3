using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
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
    public void The_standard_atmosphere_is_the_published_one(
        double ft,
        double celsius,
        double hpa,
        double inHg,
        double density,
        double ratio,
        double root,
        double soundKt
    )
    {
        Assert.Equal(celsius, Atmosphere.TemperatureC(ft), 0.00051);
        Assert.Equal(hpa, Atmosphere.PressureHpa(ft), 0.0051);
        Assert.Equal(inHg, Atmosphere.PressureHpa(ft) / Units.HpaPerInHg, 0.000051);
        Assert.Equal(density, Atmosphere.DensityKgPerM3(ft), 0.0000051);
        Assert.Equal(ratio, Atmosphere.DensityRatio(ft), 0.0000051);
        Assert.Equal(root, 1 / Math.Sqrt(Atmosphere.DensityRatio(ft)), 0.0000051);
        Assert.Equal(soundKt, Atmosphere.SpeedOfSoundKt(Atmosphere.TemperatureC(ft)), 0.0051);
    }

    /// <summary>
    /// Source: layers of the standard atmosphere as tabulated by J. Denker, Altimetry (av8n.com/physics/altimetry.htm), after U.S. Standard
    /// Atmosphere 1976, which is ICAO's up to here but for the last figure of the gas constant: metres, kelvin, Pa, kg/m³.
    /// </summary>
    [Theory]
    [InlineData(11_000, 216.65, 22632.1, 0.363918)]
    [InlineData(20_000, 216.65, 5474.89, 0.088035)]
    public void The_stratosphere_is_the_published_one(double metres, double kelvin, double pascals, double density)
    {
        var ft = Units.MToFt(metres);
        Assert.Equal(kelvin - 273.15, Atmosphere.TemperatureC(ft), 1e-6);
        Assert.Equal(pascals / 100, Atmosphere.PressureHpa(ft), 0.001);
        Assert.Equal(density, Atmosphere.DensityKgPerM3(ft), 0.0000011);
        Assert.Equal(ft, Atmosphere.PressureAltitudeFt(Atmosphere.PressureHpa(ft)), 1e-6);
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

    /// <summary>
    /// Source: hydrostatics, RT/(gp) = 287.05287 · 288.15 / (9.80665 · 101,325) m/Pa: 27.310 ft to the hectopascal, 924.8 ft to the inch of
    /// mercury, which pilots round to 30 and 1,000.
    /// </summary>
    [Fact]
    public void A_hectopascal_at_sea_level_is_twenty_seven_feet_and_an_inch_nine_hundred_and_twenty_five()
    {
        Assert.Equal(27.310, (Atmosphere.IndicatedAltitudeFt(0, 1013.26) - Atmosphere.IndicatedAltitudeFt(0, 1013.24)) / 0.02, 0.00051);
        Assert.Equal(
            924.8,
            (Atmosphere.IndicatedAltitudeFt(0, 29.93 * Units.HpaPerInHg) - Atmosphere.IndicatedAltitudeFt(0, 29.91 * Units.HpaPerInHg))
                / 0.02,
            0.2
        );
    }

    [Property(MaxTest = 300, Replay = Draw.Seed)]
    public Property A_higher_setting_shows_a_higher_altitude_and_back_again() =>
        Draw.Always(
            from ft in Draw.Between(-1000, 45000)
            from qnh in Draw.Between(940, 1060)
            select (ft, qnh),
            drawn =>
            {
                var (pressureAltitudeFt, qnhHpa) = drawn;
                var shownFt = Atmosphere.IndicatedAltitudeFt(pressureAltitudeFt, qnhHpa);
                Assert.Equal(pressureAltitudeFt, Atmosphere.PressureAltitudeFromIndicatedFt(shownFt, qnhHpa), 1e-9);
                Assert.True(Atmosphere.IndicatedAltitudeFt(pressureAltitudeFt, qnhHpa + 1) > shownFt);
            }
        );

    [Property(MaxTest = 300, Replay = Draw.Seed)]
    public Property Pressure_and_density_lead_back_to_their_altitude() =>
        Draw.Always(
            Draw.Between(-16_000, 65_600),
            ft =>
            {
                Assert.Equal(ft, Atmosphere.PressureAltitudeFt(Atmosphere.PressureHpa(ft)), 1e-6);
                Assert.Equal(ft, Atmosphere.DensityAltitudeFt(ft, Atmosphere.TemperatureC(ft)), 1e-6);
            }
        );

    /// <summary>
    /// Source: ICAO cold temperature error table as printed in the FAA Aeronautical Information Manual (April 2014, TBL 7-2-3): reported
    /// °C at
    /// the airport, then the feet to add at heights of 200 to 5,000 ft above it. It is rounded, upward more than downward, to ten feet.
    /// </summary>
    [Theory]
    [InlineData(10, new[] { 10.0, 10, 10, 10, 20, 20, 20, 20, 20, 30, 40, 60, 80, 90 })]
    [InlineData(0, new[] { 20.0, 20, 30, 30, 40, 40, 50, 50, 60, 90, 120, 170, 230, 280 })]
    [InlineData(-10, new[] { 20.0, 30, 40, 50, 60, 70, 80, 90, 100, 150, 200, 290, 390, 490 })]
    [InlineData(-20, new[] { 30.0, 50, 60, 70, 90, 100, 120, 130, 140, 210, 280, 420, 570, 710 })]
    [InlineData(-30, new[] { 40.0, 60, 80, 100, 120, 140, 150, 170, 190, 280, 380, 570, 760, 950 })]
    [InlineData(-40, new[] { 50.0, 80, 100, 120, 150, 170, 190, 220, 240, 360, 480, 720, 970, 1210 })]
    [InlineData(-50, new[] { 60.0, 90, 120, 150, 180, 210, 240, 270, 300, 450, 590, 890, 1190, 1500 })]
    public void An_altitude_corrected_by_the_cold_temperature_table_is_the_intended_height(double airportC, double[] correctionsFt)
    {
        double[] heightsFt = [200, 300, 400, 500, 600, 700, 800, 900, 1000, 1500, 2000, 3000, 4000, 5000];
        Assert.Equal(heightsFt.Length, correctionsFt.Length);
        foreach (var (heightFt, correctionFt) in heightsFt.Zip(correctionsFt))
        {
            var indicatedFt = heightFt + correctionFt;
            Assert.InRange(Atmosphere.TrueHeightFt(indicatedFt, airportC - 15, indicatedFt) - heightFt, -3, 10);
        }
    }

    /// <summary>Source: about 4 % of height for each 10 °C (FAA-H-8083-15, from memory).</summary>
    [Fact]
    public void Cold_air_makes_true_height_less_by_four_percent_for_ten_degrees() =>
        Assert.Equal(0.04, 1 - (Atmosphere.TrueHeightFt(3000, -10, 3000) / 3000), 0.005);

    [Fact]
    public void On_a_standard_day_true_height_is_the_indicated_one() => Assert.Equal(3000, Atmosphere.TrueHeightFt(3000, 0, 4500));

    [Fact]
    public void A_missing_value_stays_missing()
    {
        Assert.Equal(double.NaN, Atmosphere.PressureHpa(double.NaN));
        Assert.Equal(double.NaN, Atmosphere.TemperatureC(double.NaN));
        Assert.Equal(double.NaN, Atmosphere.PressureAltitudeFt(double.NaN));
        Assert.Equal(double.NaN, Atmosphere.IndicatedAltitudeFt(3000, double.NaN));
        Assert.Equal(double.NaN, Atmosphere.DensityAltitudeFt(3000, double.NaN));
    }

    [Fact]
    public void Beyond_the_layers_there_is_an_error_and_no_guess()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Atmosphere.PressureHpa(70_000));
        Assert.Throws<ArgumentOutOfRangeException>(() => Atmosphere.PressureHpa(-17_000));
        Assert.Throws<ArgumentOutOfRangeException>(() => Atmosphere.PressureAltitudeFt(29.92));
        Assert.Throws<ArgumentOutOfRangeException>(() => Atmosphere.PressureAltitudeFt(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => Atmosphere.SpeedOfSoundKt(-300));
        Assert.Throws<ArgumentOutOfRangeException>(() => Atmosphere.TrueHeightFt(3000, -10, 40_000));
    }
}
