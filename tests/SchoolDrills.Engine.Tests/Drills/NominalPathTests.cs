using SchoolDrills.Engine.Drills;
using Xunit;
using static SchoolDrills.Engine.Tests.Drills.Timelines;

namespace SchoolDrills.Engine.Tests.Drills;

public sealed class NominalPathTests
{
    private const double MetresPerNm = 1852,
        MetresPerFt = 0.3048;

    private static DrillTimeline Timeline(string slug) =>
        DrillTimeline.Resolve(Catalogue.Templates.Single(t => t.Slug == slug), new DrillEntry(360, 3000, 90));

    [Theory]
    // Lateral miss from the reciprocal course in still air, right of the original heading positive, by arithmetic from
    // straight legs and arcs of radius V/ω; the same sum shows that a leg of 2/ω = 38.2 s closes exactly.
    [InlineData("procedure-turn-45", 90, -0.032)]
    [InlineData("procedure-turn-45", 120, -0.042)]
    [InlineData("procedure-turn-45-minute", 90, -0.385)]
    [InlineData("procedure-turn-45-minute", 120, -0.514)]
    [InlineData("turn-80-260", 90, 0.166)]
    [InlineData("turn-80-260", 120, 0.221)]
    [InlineData("teardrop-30", 90, 0.077)]
    [InlineData("teardrop-30", 120, 0.103)]
    [InlineData("teardrop-20", 90, -0.129)]
    [InlineData("teardrop-20", 120, -0.172)]
    [InlineData("teardrop-10", 90, 0.160)]
    [InlineData("teardrop-10", 120, 0.213)]
    public void A_course_reversal_closes_as_the_arithmetic_says(string slug, double trueAirspeedKt, double missNm)
    {
        var path = NominalPath.Of(Timeline(slug), trueAirspeedKt, limits: PathLimits.None);

        Assert.Equal(missNm, path.EastM[^1] / MetresPerNm, 0.0011);
    }

    [Fact]
    public void A_racetrack_comes_back_to_its_own_line()
    {
        var path = NominalPath.Of(Timeline("racetrack"), 90);

        Assert.Equal(0, path.EastM[^1], 0.5);
    }

    [Theory]
    // R = V/ω: 2,579 ft at 80 kt, 3,223 ft at 100 kt, 4,835 ft at 150 kt.
    [InlineData(80, 2579)]
    [InlineData(100, 3223)]
    [InlineData(150, 4835)]
    public void A_standard_rate_circle_has_the_radius_of_the_arithmetic(double trueAirspeedKt, double radiusFt)
    {
        var circle = DrillTimeline.Resolve(Drill(new Segment { TurnDeg = 360 }), new DrillEntry(360, 3000, 90));
        var path = NominalPath.Of(circle, trueAirspeedKt, limits: PathLimits.None);

        Assert.Equal(radiusFt, path.EastM.Max() / 2 / MetresPerFt, 1.0);
    }

    [Fact]
    public void A_turn_is_led_in_and_out_and_is_complete()
    {
        var turn = DrillTimeline.Resolve(
            Drill(new Segment { DurationS = 30 }, new Segment { TurnDeg = 180 }, new Segment { DurationS = 30 }),
            new DrillEntry(360, 3000, 90)
        );
        var path = NominalPath.Of(turn, 100);

        // tan φ = Vω/g at 100 kt: 15.36° at 3°/s, 7.82° at the 1.5°/s of the middle of the roll.
        Assert.Equal(15.36, path.BankDeg.Max(), 0.01);
        Assert.Equal(7.82, path.BankDeg[30], 0.01);
        Assert.Equal(0, path.BankDeg[28]);
        // The roll of 15.36° takes 3.07 s at 5°/s; at its middle an eighth of ωτ is still to go, 1.15°.
        Assert.Equal(180 - 1.15, path.HeadingMagDeg[90], 0.01);
        Assert.Equal(180, path.HeadingMagDeg[92], 0.001);
    }

    [Fact]
    public void A_reversal_brings_steep_turns_back_to_the_heading_they_left()
    {
        var turns = DrillTimeline.Resolve(
            Drill(
                new Segment { DurationS = 30 },
                new Segment { TurnDeg = 360, TurnRateDegPerS = 10.92 },
                new Segment { TurnDeg = -360, TurnRateDegPerS = 10.92 },
                new Segment { DurationS = 30 }
            ),
            new DrillEntry(360, 5000, 93)
        );
        var path = NominalPath.Of(turns, 100);

        // 10.92°/s at 100 kt is 45° of bank, by arithmetic.
        Assert.Equal(45, path.BankDeg.Max(), 0.02);
        Assert.Equal(-45, path.BankDeg.Min(), 0.02);
        Assert.Equal(0, Math.IEEERemainder(path.HeadingMagDeg[^1], 360), 0.01);
    }

    [Fact]
    public void A_climb_levels_off_at_its_altitude()
    {
        var climb = DrillTimeline.Resolve(
            Drill(new Segment { DurationS = 30 }, new Segment { ClimbFt = 500 }, new Segment { DurationS = 30 }),
            new DrillEntry(360, 3000, 90)
        );
        var path = NominalPath.Of(climb, 100);

        Assert.Equal(3500, path.AltitudeFt[^1], 0.01);
        Assert.True(path.AltitudeFt.Max() < 3500.01);
    }

    [Fact]
    public void The_wind_carries_the_drill_by_its_speed_times_the_time()
    {
        var box = Timeline("box-circles");
        var still = NominalPath.Of(box, 94);
        var windy = NominalPath.Of(box, 94, windAt: _ => (-20, 0));

        // 20 kt from the east for 14 minutes: 4.667 NM to the west.
        var at840 = Array.IndexOf(still.TimeS, 840);
        Assert.Equal(-20.0 * 840 / 3600, (windy.EastM[at840] - still.EastM[at840]) / MetresPerNm, 0.001);
        Assert.Equal(still.NorthM[at840], windy.NorthM[at840], 0.01);
    }

    [Fact]
    public void A_wind_that_grows_with_height_carries_the_high_parts_farther()
    {
        var climb = DrillTimeline.Resolve(Drill(new Segment { ClimbFt = 1000 }), new DrillEntry(360, 3000, 90));
        var path = NominalPath.Of(climb, 90, windAt: ft => (10 * (ft - 3000) / 1000, 0), limits: PathLimits.None);

        // Mean of 0 and 10 kt for two minutes.
        Assert.Equal(5.0 * 120 / 3600 * MetresPerNm, path.EastM[^1], 0.5);
    }

    [Fact]
    public void Declination_turns_the_path_and_not_the_headings()
    {
        var straight = DrillTimeline.Resolve(Drill(new Segment { DurationS = 60 }), new DrillEntry(360, 3000, 90));
        var path = NominalPath.Of(straight, 90, declinationDeg: 24);

        Assert.Equal(24, Math.Atan2(path.EastM[^1], path.NorthM[^1]) * 180 / Math.PI, 1e-6);
        Assert.All(path.HeadingMagDeg, h => Assert.Equal(360, h));
    }

    [Fact]
    public void Columns_are_of_one_length_a_second_apart_and_name_their_segment()
    {
        var box = Timeline("box-circles");
        var path = NominalPath.Of(box, 94);

        Assert.All(
            [
                path.EastM.Length,
                path.NorthM.Length,
                path.AltitudeFt.Length,
                path.HeadingMagDeg.Length,
                path.BankDeg.Length,
                path.SegmentIndex.Length,
            ],
            n => Assert.Equal(path.TimeS.Length, n)
        );
        Assert.Equal(Enumerable.Range(0, 841).Select(s => (double)s), path.TimeS);
        Assert.Equal((0, 1), (path.SegmentIndex[29], path.SegmentIndex[30]));
        Assert.Equal(3500, path.AltitudeFt[90], 0.01);
    }
}
