using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Reconstruction;

public sealed class VerticalMotionTests
{
    /// <summary>Two minutes' taxi on a field at 1,000 ft, a climb at 500 ft/min for four minutes, two minutes level at 3,000 ft.</summary>
    private static readonly double[] TrueFt = [.. Enumerable.Range(0, 481).Select(t => 1000 + Math.Clamp((t - 120) / 60.0 * 500, 0, 2000))];

    [Fact]
    public void Indicated_altitude_takes_precedence_and_is_unchanged()
    {
        var vertical = VerticalMotion.From(
            Recording(indicated: TrueFt, pressure: Moved(-200), gps: Moved(60)),
            new KnownConditions(QnhHpa: 1030)
        );
        Assert.Equal(AltitudeSource.Indicated, vertical.Source);
        Assert.Equal(3000, vertical.AltitudeFt[470], 1.0);
        Assert.InRange(vertical.AltitudeSigmaFt, 1, 5);
    }

    [Theory]
    [InlineData(1013.25, 0)]
    [InlineData(1023.0, 265.2)]
    [InlineData(1003.0, -281.1)]
    public void Pressure_altitude_with_a_known_setting_is_the_altimeter_indication(double qnhHpa, double higherFt)
    {
        // h(p) of the standard atmosphere (ICAO Doc 7488/3), computed from its formula: −265.2 ft at 1023 hPa, 281.1 ft at 1003 hPa.
        var vertical = VerticalMotion.From(Recording(pressure: TrueFt, gps: TrueFt), new KnownConditions(QnhHpa: qnhHpa));
        Assert.Equal(AltitudeSource.Indicated, vertical.Source);
        Assert.Equal(3000 + higherFt, vertical.AltitudeFt[470], 1.0);
    }

    [Fact]
    public void A_recorded_setting_takes_precedence_over_a_known_one()
    {
        var vertical = VerticalMotion.From(Recording(pressure: TrueFt, settingHpa: 1023), new KnownConditions(QnhHpa: 1003));
        Assert.Equal(3265.2, vertical.AltitudeFt[470], 1.0);
    }

    /// <summary>
    /// A warm day: each true foot above the field shows as 0.96 ft of pressure altitude, and the altimeter reads low aloft.
    /// </summary>
    [Fact]
    public void Pressure_altitude_without_a_setting_is_set_by_satellite_altitude_on_the_ground()
    {
        double[] pressure = [.. TrueFt.Select(h => 1000 - 350 + ((h - 1000) * 0.96))];
        var vertical = VerticalMotion.From(Recording(pressure: pressure, gps: TrueFt), new KnownConditions());
        Assert.Equal(AltitudeSource.Pressure, vertical.Source);
        Assert.Equal(1000, vertical.AltitudeFt[60], 1.0);
        Assert.Equal(2920, vertical.AltitudeFt[470], 1.0);
    }

    [Fact]
    public void Pressure_altitude_of_a_recording_that_starts_in_flight_is_set_by_satellite_altitude_there()
    {
        var track = new SyntheticFlight(0, 0).Fly(300).Record();
        double[] gps = track.GpsAltitudeFt!;
        var vertical = VerticalMotion.From(
            SyntheticFlight.Clean(Copy(track, pressure: Array.ConvertAll(gps, h => h - 420), gps: gps)),
            new KnownConditions()
        );
        Assert.Equal(3000, vertical.AltitudeFt[200], 1.0);
    }

    [Fact]
    public void Satellite_altitude_above_the_ellipsoid_gives_no_setting()
    {
        var vertical = VerticalMotion.From(Recording(pressure: Moved(-350), gps: TrueFt, ellipsoidal: true), new KnownConditions());
        Assert.Equal(2650, vertical.AltitudeFt[470], 1.0);
    }

    [Fact]
    public void Satellite_altitude_is_the_last_choice_and_has_the_largest_sigma()
    {
        var vertical = VerticalMotion.From(Recording(gps: TrueFt), new KnownConditions());
        Assert.Equal(AltitudeSource.Gps, vertical.Source);
        Assert.Equal(3000, vertical.AltitudeFt[470], 2.0);
        Assert.InRange(vertical.AltitudeSigmaFt, 10, 20);
        Assert.InRange(vertical.VerticalSpeedSigmaFpm, 60, 100);
    }

    [Fact]
    public void Without_any_altitude_none_is_invented()
    {
        var vertical = VerticalMotion.From(Recording(), new KnownConditions());
        Assert.All(vertical.AltitudeFt, h => Assert.Equal(double.NaN, h));
        Assert.All(vertical.VerticalSpeedFpm, v => Assert.Equal(double.NaN, v));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(5)]
    [InlineData(0.2)]
    public void A_climb_at_500_feet_a_minute_has_that_vertical_speed(double everyS)
    {
        var flight = new SyntheticFlight(0, 0).Fly(60).Fly(120, 0, 500).Fly(60);
        var vertical = VerticalMotion.From(
            SyntheticFlight.Clean(flight.Record(Enumerable.Range(0, (int)(240 / everyS)).Select(i => i * everyS))),
            new KnownConditions()
        );
        int At(double timeS) => (int)Math.Round(timeS / everyS);
        Assert.Equal(0, vertical.VerticalSpeedFpm[At(30)], 5.0);
        Assert.Equal(500, vertical.VerticalSpeedFpm[At(120)], 10.0);
        Assert.Equal(0, vertical.VerticalSpeedFpm[At(215)], 10.0);
    }

    /// <summary>
    /// CAS to TAS at 5,000 ft: 100 kt is 107.67 kt in the standard atmosphere and 110.53 kt 15 °C above it (computed, compressible).
    /// </summary>
    [Theory]
    [InlineData(null, 107.67)]
    [InlineData(20.094, 110.53)]
    public void True_airspeed_follows_from_indicated_by_altitude_and_temperature(double? temperatureC, double trueKt)
    {
        var known = new KnownConditions(OutsideAirTemperatureC: temperatureC);
        var vertical = VerticalMotion.From(Recording(gps: [.. Enumerable.Repeat(5000.0, 481)]), known);
        Assert.Equal(trueKt, vertical.TrueFromIndicatedKt(200, 100, known), 0.02);
        Assert.Equal(100, vertical.IndicatedFromTrueKt(200, trueKt, known), 0.02);
    }

    private static double[] Moved(double byFt) => Array.ConvertAll(TrueFt, h => h + byFt);

    private static CleanTrack Recording(
        double[]? indicated = null,
        double[]? pressure = null,
        double[]? gps = null,
        double? settingHpa = null,
        bool ellipsoidal = false
    )
    {
        var flight = new SyntheticFlight(0, 0).Fly(120, trueAirspeedKt: _ => 3).Fly(360);
        return SyntheticFlight.Clean(Copy(flight.Record(), indicated, pressure, gps, settingHpa, ellipsoidal));
    }

    private static Track Copy(
        Track track,
        double[]? indicated = null,
        double[]? pressure = null,
        double[]? gps = null,
        double? settingHpa = null,
        bool ellipsoidal = false
    ) =>
        new()
        {
            Format = track.Format,
            EpochUtc = track.EpochUtc,
            TimeS = track.TimeS,
            LatDeg = track.LatDeg,
            LonDeg = track.LonDeg,
            IndicatedAltitudeFt = indicated,
            PressureAltitudeFt = pressure,
            GpsAltitudeFt = gps,
            GpsAltitudeIsEllipsoidal = ellipsoidal,
            AltimeterSettingHpa = settingHpa is { } hpa ? Array.ConvertAll(track.TimeS, _ => hpa) : null,
        };
}
