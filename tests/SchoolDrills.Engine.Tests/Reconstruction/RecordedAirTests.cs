using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Reconstruction;

public sealed class RecordedAirTests
{
    private const double DeclinationDeg = 10;

    [Fact]
    public void Columns_that_were_not_recorded_are_null()
    {
        var air = Taken();
        Assert.Null(air.HeadingMagDeg);
        Assert.Null(air.HeadingTrueDeg);
        Assert.Null(air.TurnRateDegPerS);
        Assert.Null(air.AirspeedKt);
        Assert.Null(air.TrueAirspeedKt);
        Assert.Null(air.BankDeg);
    }

    [Fact]
    public void A_magnetic_heading_gives_the_turn_rate_through_north()
    {
        var air = Taken(headingMagDeg: t => (350 + (3 * t)) % 360);
        Assert.Equal(350 + 180, air.HeadingMagDeg![60], 0.05);
        Assert.Equal(350 + 180 + DeclinationDeg, air.HeadingTrueDeg![60], 0.05);
        Assert.Equal(3, air.TurnRateDegPerS![60], 0.01);
    }

    [Fact]
    public void Without_a_declination_a_true_heading_gives_no_magnetic_one_and_a_magnetic_one_no_true_one()
    {
        Assert.Null(Taken(headingTrueDeg: _ => 50, declinationDeg: double.NaN).HeadingMagDeg);
        var magnetic = Taken(headingMagDeg: _ => 50, declinationDeg: double.NaN);
        Assert.Equal(50, magnetic.HeadingMagDeg![60], 0.01);
        Assert.Null(magnetic.HeadingTrueDeg);
    }

    [Fact]
    public void A_recorded_magnetic_heading_takes_precedence_over_a_true_one() =>
        Assert.Equal(50, Taken(headingMagDeg: _ => 50, headingTrueDeg: _ => 65).HeadingMagDeg![60], 0.01);

    /// <summary>CAS 90 kt at 2,000 ft in the standard atmosphere is 92.68 KTAS (computed, compressible).</summary>
    [Fact]
    public void Either_airspeed_gives_the_other()
    {
        Assert.Equal(92.68, Taken(indicatedKt: _ => 90).TrueAirspeedKt![60], 0.02);
        Assert.Equal(90, Taken(trueKt: _ => 92.68).AirspeedKt![60], 0.02);
    }

    [Fact]
    public void A_heading_missing_for_a_moment_is_bridged_and_noise_is_smoothed()
    {
        var random = new Random(4);
        var air = Taken(headingMagDeg: t => t is > 50 and < 53 ? double.NaN : 90 + (0.3 * SyntheticFlight.Gaussian(random)));
        Assert.All(air.HeadingMagDeg!, h => Assert.Equal(90, h, 0.8));
    }

    private static RecordedAir Taken(
        Func<double, double>? headingMagDeg = null,
        Func<double, double>? headingTrueDeg = null,
        Func<double, double>? indicatedKt = null,
        Func<double, double>? trueKt = null,
        double declinationDeg = DeclinationDeg
    )
    {
        var track = new SyntheticFlight(0, 0).Fly(120).Record();
        double[]? Column(Func<double, double>? at) => at is null ? null : Array.ConvertAll(track.TimeS, t => at(t));
        var clean = SyntheticFlight.Clean(
            new Track
            {
                Format = "csv",
                EpochUtc = track.EpochUtc,
                TimeS = track.TimeS,
                LatDeg = track.LatDeg,
                LonDeg = track.LonDeg,
                PressureAltitudeFt = Array.ConvertAll(track.TimeS, _ => 2000.0),
                HeadingMagDeg = Column(headingMagDeg),
                HeadingTrueDeg = Column(headingTrueDeg),
                IndicatedAirspeedKt = Column(indicatedKt),
                TrueAirspeedKt = Column(trueKt),
            }
        );
        var known = new KnownConditions();
        return RecordedAir.From(clean, VerticalMotion.From(clean, known), known, declinationDeg);
    }
}
