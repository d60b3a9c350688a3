using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
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
    [InlineData(150, 15000, 0, 188.18)]
    public void True_airspeed_of_a_calibrated_one(double calibratedKt, double pressureAltitudeFt, double isaDeviationC, double trueKt) =>
        Assert.Equal(
            trueKt,
            Airspeed.TrueFromCalibratedKt(calibratedKt, pressureAltitudeFt, Atmosphere.TemperatureC(pressureAltitudeFt) + isaDeviationC),
            0.0051
        );

    /// <summary>Source: calibrated airspeed is so defined that at sea level in the standard atmosphere it is the true one.</summary>
    [Property(MaxTest = 100, Replay = Draw.Seed)]
    public Property At_sea_level_on_a_standard_day_calibrated_is_true() =>
        Draw.Always(Draw.Between(0, 600), kt => Assert.Equal(kt, Airspeed.TrueFromCalibratedKt(kt, 0, 15), 1e-9));

    [Property(MaxTest = 500, Replay = Draw.Seed)]
    public Property Calibrated_and_true_are_inverses() =>
        Draw.Always(
            from kt in Draw.Between(-40, 300)
            from ft in Draw.Between(-1000, 40000)
            from celsius in Draw.Between(-60, 45)
            select (kt, ft, celsius),
            air =>
                Assert.Equal(
                    air.kt,
                    Airspeed.CalibratedFromTrueKt(Airspeed.TrueFromCalibratedKt(air.kt, air.ft, air.celsius), air.ft, air.celsius),
                    1e-6
                )
        );

    [Fact]
    public void A_missing_or_supersonic_speed_has_no_airspeed()
    {
        Assert.Equal(double.NaN, Airspeed.TrueFromCalibratedKt(double.NaN, 5000, 5));
        Assert.Equal(double.NaN, Airspeed.CalibratedFromTrueKt(100, double.NaN, 5));
        Assert.Equal(double.NaN, Airspeed.CalibratedFromTrueKt(700, 5000, 5));
        Assert.Equal(double.NaN, Airspeed.TrueFromCalibratedKt(600, 40000, -56.5));
    }
}
