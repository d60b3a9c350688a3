using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using SchoolDrills.Engine.Flight;
using Xunit;

namespace SchoolDrills.Engine.Tests.Flight;

public sealed class TurnGeometryTests
{
    /// <summary>Source: tan φ = Vω/g, R = V/ω, n = 1/cos φ, tabulated for 3°/s: KTAS, φ, R ft, R NM, n, φ at half rate.</summary>
    [Theory]
    [InlineData(80, 12.39, 2579, 0.424, 1.0239, 6.27)]
    [InlineData(90, 13.89, 2901, 0.477, 1.0301, 7.05)]
    [InlineData(100, 15.36, 3223, 0.531, 1.0370, 7.82)]
    [InlineData(110, 16.81, 3546, 0.584, 1.0446, 8.59)]
    [InlineData(120, 18.24, 3868, 0.637, 1.0529, 9.36)]
    [InlineData(150, 22.39, 4835, 0.796, 1.0816, 11.64)]
    public void The_standard_rate_turn_at_light_aeroplane_speeds(
        double ktas,
        double bankDeg,
        double radiusFt,
        double radiusNm,
        double loadFactor,
        double halfRateBankDeg
    )
    {
        Assert.Equal(bankDeg, TurnGeometry.BankDeg(3, ktas), 0.0051);
        Assert.Equal(radiusFt, Units.MToFt(TurnGeometry.RadiusM(3, ktas)), 0.51);
        Assert.Equal(radiusNm, TurnGeometry.RadiusM(3, ktas) / Units.MPerNm, 0.00051);
        Assert.Equal(loadFactor, TurnGeometry.LoadFactor(TurnGeometry.BankDeg(3, ktas)), 0.000051);
        Assert.Equal(halfRateBankDeg, TurnGeometry.BankDeg(1.5, ktas), 0.0051);
    }

    /// <summary>Source: n = 1/cos φ and its root, the factor on the stalling speed.</summary>
    [Theory]
    [InlineData(30, 1.1547, 1.0746)]
    [InlineData(45, 1.4142, 1.1892)]
    [InlineData(50, 1.5557, 1.2473)]
    [InlineData(60, 2.0000, 1.4142)]
    public void Load_factor_of_a_bank(double bankDeg, double loadFactor, double stallFactor)
    {
        Assert.Equal(loadFactor, TurnGeometry.LoadFactor(bankDeg), 0.000051);
        Assert.Equal(stallFactor, Math.Sqrt(TurnGeometry.LoadFactor(bankDeg)), 0.000051);
    }

    /// <summary>Source: steep turn at 100 KTAS by the same formulas: bank, rate, radius, time round.</summary>
    [Theory]
    [InlineData(45, 10.92, 885, 33.0)]
    [InlineData(50, 13.02, 743, 27.7)]
    public void A_steep_turn(double bankDeg, double rateDegPerS, double radiusFt, double circleS)
    {
        var rate = TurnGeometry.TurnRateDegPerS(bankDeg, 100);
        Assert.Equal(rateDegPerS, rate, 0.0051);
        Assert.Equal(radiusFt, Units.MToFt(TurnGeometry.RadiusM(rate, 100)), 0.51);
        Assert.Equal(circleS, TurnGeometry.TimeS(360, rate), 0.051);
    }

    /// <summary>
    /// Source: US Navy turn pattern (CNATRA P-330): ideal times at 100 KTAS for 30° at 15°, 90° at 30°, 180° at 45° of bank.
    /// </summary>
    [Theory]
    [InlineData(30, 15, 10.2)]
    [InlineData(90, 30, 14.3)]
    [InlineData(180, 45, 16.5)]
    public void The_turns_of_a_bank_pattern_take_their_ideal_time(double turnDeg, double bankDeg, double seconds) =>
        Assert.Equal(seconds, TurnGeometry.TimeS(turnDeg, TurnGeometry.TurnRateDegPerS(bankDeg, 100)), 0.051);

    /// <summary>
    /// Source: rules of thumb against the exact bank: 15 % of TAS is within 0.39° from 80 to 150 kt, +5 is 2.4° low at 150.
    /// </summary>
    [Fact]
    public void Rules_of_thumb_are_as_good_as_published()
    {
        double[] speedsKt = [80, 90, 100, 110, 120, 150];
        Assert.Equal(
            0.39,
            speedsKt.Max(kt => Math.Abs(TurnGeometry.Rules.BankFifteenPercentDeg(kt) - TurnGeometry.BankDeg(3, kt))),
            0.0051
        );
        Assert.Equal(2.4, TurnGeometry.BankDeg(3, 150) - TurnGeometry.Rules.BankTenthPlusFiveDeg(150), 0.051);
    }

    /// <summary>
    /// Source: time arithmetic of standard rate: 90° in 30 s, 180° in a minute, a circle in two, and twice that at half rate.
    /// </summary>
    [Theory]
    [InlineData(90, 30)]
    [InlineData(-180, 60)]
    [InlineData(360, 120)]
    public void A_turn_of_360_degrees_at_standard_rate_takes_two_minutes(double turnDeg, double seconds)
    {
        Assert.Equal(seconds, TurnGeometry.TimeS(turnDeg, TurnGeometry.StandardRateDegPerS));
        Assert.Equal(2 * seconds, TurnGeometry.TimeS(turnDeg, TurnGeometry.StandardRateDegPerS / 2));
    }

    /// <summary>
    /// Source: ωφ/(2p) for small banks: half the bank fits a roll of 3°/s at standard rate (FAA), a third one of 4.5°/s (US Navy).
    /// </summary>
    [Theory]
    [InlineData(80)]
    [InlineData(100)]
    [InlineData(120)]
    public void Roll_out_leads_agree_with_the_rules_of_thumb(double ktas)
    {
        var bankDeg = TurnGeometry.BankDeg(3, ktas);
        Assert.Equal(TurnGeometry.Rules.RollOutHalfBankDeg(bankDeg), TurnGeometry.RollOutLeadDeg(3, bankDeg, 3), 0.02 * bankDeg);
        Assert.Equal(TurnGeometry.Rules.RollOutThirdBankDeg(bankDeg), TurnGeometry.RollOutLeadDeg(3, bankDeg, 4.5), 0.02 * bankDeg);
    }

    /// <summary>Source: the turn itself, its rate added up in steps of a millisecond while the bank comes off.</summary>
    [Theory]
    [InlineData(15.36, 3)]
    [InlineData(45, 10)]
    [InlineData(-60, 15)]
    public void The_roll_out_lead_is_the_heading_flown_while_rolling_level(double bankDeg, double rollRateDegPerS)
    {
        const double ktas = 100,
            stepS = 0.001;
        double flownDeg = 0;
        for (var s = stepS / 2; s < Math.Abs(bankDeg) / rollRateDegPerS; s += stepS)
        {
            flownDeg += TurnGeometry.TurnRateDegPerS(Math.Abs(bankDeg) - (rollRateDegPerS * s), ktas) * stepS;
        }

        Assert.Equal(flownDeg, TurnGeometry.RollOutLeadDeg(TurnGeometry.TurnRateDegPerS(bankDeg, ktas), bankDeg, rollRateDegPerS), 0.001);
    }

    /// <summary>Source: by hand, 500 ft/min taken off at 100 ft/min each second is 5 s at 250 ft/min on average, 20.83 ft.</summary>
    [Fact]
    public void The_level_off_lead_is_the_height_flown_while_levelling()
    {
        Assert.Equal(20.83, TurnGeometry.LevelOffLeadFt(500, 100), 0.0051);
        Assert.Equal(20.83, TurnGeometry.LevelOffLeadFt(-500, 100), 0.0051);
    }

    /// <summary>Source: a tenth of the vertical speed, 2,000 ft/min led by 200 ft (US Navy, CNATRA P-765).</summary>
    [Fact]
    public void The_rule_for_levelling_off_is_a_tenth_of_the_vertical_speed() =>
        Assert.Equal(200, TurnGeometry.Rules.LevelOffTenthFt(-2000));

    [Property(MaxTest = 500, Replay = Draw.Seed)]
    public Property Bank_and_rate_are_inverses_and_mirror() =>
        Draw.Always(
            from rate in Draw.Between(-12, 12)
            from kt in Draw.Between(50, 250)
            select (rate, kt),
            turn =>
            {
                var bankDeg = TurnGeometry.BankDeg(turn.rate, turn.kt);
                Assert.Equal(turn.rate, TurnGeometry.TurnRateDegPerS(bankDeg, turn.kt), 1e-9);
                Assert.Equal(-bankDeg, TurnGeometry.BankDeg(-turn.rate, turn.kt), 1e-12);
                Assert.Equal(TurnGeometry.LoadFactor(bankDeg), TurnGeometry.LoadFactor(-bankDeg), 1e-12);
                Assert.Equal(
                    TurnGeometry.RollOutLeadDeg(turn.rate, bankDeg, 5),
                    TurnGeometry.RollOutLeadDeg(-turn.rate, -bankDeg, 5),
                    1e-12
                );
            }
        );

    [Fact]
    public void Straight_flight_has_no_lead_and_an_infinite_radius()
    {
        Assert.Equal(0, TurnGeometry.RollOutLeadDeg(0, 0, 5));
        Assert.Equal(double.PositiveInfinity, TurnGeometry.RadiusM(0, 100));
    }

    [Fact]
    public void A_level_turn_on_the_wing_tip_or_without_airspeed_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => TurnGeometry.LoadFactor(90));
        Assert.Throws<ArgumentOutOfRangeException>(() => TurnGeometry.TurnRateDegPerS(-95, 100));
        Assert.Throws<ArgumentOutOfRangeException>(() => TurnGeometry.TurnRateDegPerS(15, 0));
        Assert.Equal(double.NaN, TurnGeometry.LoadFactor(double.NaN));
    }

    /// <summary>
    /// Source: closure of the Instrument Flying Handbook's course reversals (FAA-H-8083-15B, chapter 7) by arcs of 3°/s and straight
    /// legs: lateral miss of the reciprocal course, NM at 90 and 120 KTAS, positive past it to the right of the first heading. Of the
    /// racetrack, which returns to its own course, miss of that.
    /// </summary>
    [Theory]
    [InlineData("45° with 40 s", new[] { -45.0, 40, 225 }, -0.032, -0.042)]
    [InlineData("45° with 60 s", new[] { -45.0, 60, 225 }, -0.385, -0.514)]
    [InlineData("80/260", new[] { -80.0, 0, 260 }, 0.166, 0.221)]
    [InlineData("teardrop 30°", new[] { -30.0, 60, 210 }, 0.077, 0.103)]
    [InlineData("teardrop 20°", new[] { -20.0, 120, 200 }, -0.129, -0.172)]
    [InlineData("teardrop 10°", new[] { -10.0, 180, 190 }, 0.160, 0.213)]
    [InlineData("racetrack", new[] { 180.0, 60, 180 }, 0, 0)]
    public void Course_reversals_miss_the_reciprocal_by_the_published_distance(
        string name,
        double[] turnStraightTurn,
        double missNm90,
        double missNm120
    )
    {
        Assert.NotEmpty(name);
        // The published figures come from times rounded to a tenth of a second.
        Assert.Equal(missNm90, MissNm(turnStraightTurn, 90), 0.0011);
        Assert.Equal(missNm120, MissNm(turnStraightTurn, 120), 0.0011);
    }

    /// <summary>Source: the 45° turn closes for a straight of 2/ω = 38.197 s whatever the airspeed.</summary>
    [Fact]
    public void The_procedure_turn_closes_after_thirty_eight_seconds_whatever_the_airspeed()
    {
        Assert.Equal(0, MissNm([-45, 38.197, 225], 90), 1e-4);
        Assert.Equal(0, MissNm([-45, 38.197, 225], 150), 1e-4);
    }

    [Property(MaxTest = 200, Replay = Draw.Seed)]
    public Property A_course_reversal_flown_to_the_other_side_misses_to_the_other_side() =>
        Draw.Always(
            from away in Draw.Between(-90, 90)
            from straightS in Draw.Between(0, 180)
            from back in Draw.Between(-300, 300)
            select (away, straightS, back),
            legs =>
                Assert.Equal(
                    -MissNm([legs.away, legs.straightS, legs.back], 100),
                    MissNm([-legs.away, legs.straightS, -legs.back], 100),
                    1e-12
                )
        );

    /// <summary>Turn, straight and turn from north; how far to the right of the first course they end, NM.</summary>
    private static double MissNm(double[] pattern, double ktas)
    {
        double headingRad = 0,
            east = 0;
        var radius = TurnGeometry.RadiusM(3, ktas);
        Turn(pattern[0]);
        east += Units.KtToMps(ktas) * pattern[1] * Math.Sin(headingRad);
        Turn(pattern[2]);
        return east / Units.MPerNm;

        void Turn(double deg)
        {
            var after = headingRad + Units.DegToRad(deg);
            east += Math.Sign(deg) * radius * (Math.Cos(headingRad) - Math.Cos(after));
            headingRad = after;
        }
    }
}
