using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using SchoolDrills.Engine.Flight;
using Xunit;

namespace SchoolDrills.Engine.Tests.Flight;

public sealed class WindTriangleTests
{
    private static readonly Gen<(double FromDeg, double Kt)> Air =
        from deg in Draw.Between(0, 360)
        from kt in Draw.Between(1, 40)
        select (deg, kt);

    /// <summary>
    /// Source: WCA = asin(W sin(θw − TC)/TAS); the first row is the example of the FAA handbook (076°, 88 kt, from memory).
    /// </summary>
    [Theory]
    [InlineData(90, 120, 45, 40, -13.633, 76.37, 88.34)]
    [InlineData(360, 100, 270, 20, -11.537, 348.46, 97.98)]
    [InlineData(45, 110, 90, 25, 9.248, 54.25, 90.89)]
    [InlineData(180, 120, 240, 30, 12.504, 192.50, 102.15)]
    [InlineData(270, 95, 230, 15, -5.825, 264.17, 83.02)]
    public void The_heading_that_holds_a_course(
        double courseDeg,
        double tasKt,
        double windFromDeg,
        double windKt,
        double wcaDeg,
        double headingDeg,
        double groundSpeedKt
    )
    {
        var course = WindTriangle.Hold(courseDeg, tasKt, windFromDeg, windKt)!;
        Assert.Equal(wcaDeg, course.CorrectionDeg, 0.00051);
        Assert.Equal(headingDeg, course.HeadingDeg, 0.0051);
        Assert.Equal(groundSpeedKt, course.GroundSpeedKt, 0.0061);
    }

    /// <summary>Source: worked example of an air navigation calculator (e6b.noseapp.ca): heading 354, 89.4 kt, 6° to the left.</summary>
    [Fact]
    public void The_worked_example_of_a_navigation_calculator()
    {
        var course = WindTriangle.Hold(360, 90, 270, 10)!;
        Assert.Equal(-6, course.CorrectionDeg, 0.51);
        Assert.Equal(354, course.HeadingDeg, 0.51);
        Assert.Equal(89.4, course.GroundSpeedKt, 0.051);
    }

    /// <summary>
    /// Source: Mathematics for Air Crew Trainees (US War Department, 1943), exercise with its answer: heading 315 at 150, wind 30 from 045
    /// give
    /// course 304, ground speed 153.
    /// </summary>
    [Fact]
    public void The_course_and_ground_speed_of_a_textbook_exercise()
    {
        var (east, north) = WindTriangle.OverGround(315, 150, 45, 30);
        Assert.Equal(153, Math.Sqrt((east * east) + (north * north)), 0.51);
        Assert.Equal(304, Angles.NormalizeDeg(Units.RadToDeg(Math.Atan2(east, north))), 0.51);
    }

    /// <summary>
    /// Source: instruction for a circular slide rule of the 1940s (Smithsonian, NASM.XXXX.0136), example 16: airspeed 165, ground speed
    /// 146,
    /// heading 104 on course 094: wind from 154, read from the rule as 34.
    /// </summary>
    [Fact]
    public void The_wind_of_a_slide_rule_example()
    {
        var course = Units.DegToRad(94);
        var (fromDeg, speedKt) = WindTriangle.Wind(146 * Math.Sin(course), 146 * Math.Cos(course), 104, 165);
        Assert.Equal(154, fromDeg, 0.51);
        Assert.Equal(34, speedKt, 1.0);
    }

    [Fact]
    public void A_headwind_that_carries_the_aeroplane_backwards_has_no_heading() => Assert.Null(WindTriangle.Hold(360, 80, 10, 90));

    [Fact]
    public void A_crosswind_stronger_than_the_aeroplane_has_no_heading() => Assert.Null(WindTriangle.Hold(360, 80, 90, 90));

    /// <summary>
    /// Source: D. Gray, "Using GPS to accurately establish true airspeed" (1998): three legs, TAS 130, wind 20.6 kt from 314.8°.
    /// </summary>
    [Fact]
    public void Three_legs_of_the_published_example()
    {
        var solution = WindTriangle.FromLegs([(140, 192), (112, 283), (120, 20)])!;
        Assert.Equal(129.9985, solution.TrueAirspeedKt, 0.001);
        Assert.Equal(20.633, solution.SpeedKt, 0.001);
        Assert.Equal(314.758, solution.FromDeg, 0.001);
        Assert.Equal(0, solution.ResidualKt, 1e-6);
    }

    /// <summary>
    /// Source: test pilot school four-leg sample, each triple: mean TAS 183.7267, SD 0.8271, winds 5.26/194.5, 3.58/181.5, 5.15/162.7,
    /// 6.44/177.9.
    /// </summary>
    [Fact]
    public void Four_legs_by_triples_of_the_published_sample()
    {
        (double, double)[] legs = [(178, 178), (185, 82), (188, 355), (184, 265)];
        int[][] triples =
        [
            [0, 1, 2],
            [1, 2, 3],
            [2, 3, 0],
            [3, 0, 1],
        ];
        var solutions = triples.Select(t => WindTriangle.FromLegs([.. t.Select(i => legs[i])])!).ToList();
        var meanKt = solutions.Average(s => s.TrueAirspeedKt);
        Assert.Equal(183.7267, meanKt, 0.0001);
        Assert.Equal(0.8271, Math.Sqrt(solutions.Sum(s => Math.Pow(s.TrueAirspeedKt - meanKt, 2)) / 3), 0.0001);
        double[][] expected =
        [
            [5.26, 194.5],
            [3.58, 181.5],
            [5.15, 162.7],
            [6.44, 177.9],
        ];
        foreach (var wind in expected)
        {
            Assert.Contains(solutions, s => Math.Abs(s.SpeedKt - wind[0]) < 0.006 && Math.Abs(s.FromDeg - wind[1]) < 0.06);
        }
    }

    /// <summary>Source: synthetic check, TAS 100, wind 270/20, headings 040, 160, 280: ground speeds 113.891, 108.481, 80.379.</summary>
    [Fact]
    public void Three_headings_a_third_of_a_circle_apart()
    {
        double[] headings = [40, 160, 280],
            expectedKt = [113.891, 108.481, 80.379];
        var legs = new List<(double, double)>();
        for (var i = 0; i < 3; i++)
        {
            var (east, north) = WindTriangle.OverGround(headings[i], 100, 270, 20);
            var speed = Math.Sqrt((east * east) + (north * north));
            Assert.Equal(expectedKt[i], speed, 0.00051);
            legs.Add((speed, Units.RadToDeg(Math.Atan2(east, north))));
        }

        var solution = WindTriangle.FromLegs(legs)!;
        Assert.Equal(100, solution.TrueAirspeedKt, 1e-6);
        Assert.Equal(20, solution.SpeedKt, 1e-6);
        Assert.Equal(270, solution.FromDeg, 1e-6);
    }

    /// <summary>Source: the sum of squares itself, which grows whichever way the circle through the four-leg sample is moved.</summary>
    [Theory]
    [InlineData(0.1, 0)]
    [InlineData(-0.1, 0)]
    [InlineData(0, 0.1)]
    [InlineData(0, -0.1)]
    public void No_other_circle_fits_four_legs_better(double movedEastKt, double movedNorthKt)
    {
        (double GroundSpeedKt, double CourseDeg)[] legs = [(178, 178), (185, 82), (188, 355), (184, 265)];
        var best = WindTriangle.FromLegs(legs)!;
        Assert.InRange(best.ResidualKt, 0.1, 1);
        var (sin, cos) = Math.SinCos(Units.DegToRad(best.FromDeg));
        double windEast = -best.SpeedKt * sin,
            windNorth = -best.SpeedKt * cos;
        foreach (var widerKt in new[] { -0.1, 0, 0.1 })
        {
            Assert.True(
                Misfit(windEast + movedEastKt, windNorth + movedNorthKt, best.TrueAirspeedKt + widerKt)
                    > Misfit(windEast, windNorth, best.TrueAirspeedKt)
            );
        }

        double Misfit(double eastKt, double northKt, double airspeedKt) =>
            legs.Sum(leg =>
            {
                var (legSin, legCos) = Math.SinCos(Units.DegToRad(leg.CourseDeg));
                var square = Math.Pow((leg.GroundSpeedKt * legSin) - eastKt, 2) + Math.Pow((leg.GroundSpeedKt * legCos) - northKt, 2);
                return Math.Pow(square - (airspeedKt * airspeedKt), 2);
            });
    }

    [Fact]
    public void Legs_along_one_line_or_nearly_the_same_way_have_no_solution()
    {
        Assert.Null(WindTriangle.FromLegs([(100, 90), (101, 90), (80, 270)]));
        Assert.Null(WindTriangle.FromLegs([(100, 90), (101, 95), (102, 100)]));
        Assert.Null(WindTriangle.FromLegs([(100, 90), (100, 90), (100, 90)]));
        Assert.Null(WindTriangle.FromLegs([(100, 90), (double.NaN, 180), (100, 270)]));
    }

    [Fact]
    public void Two_legs_are_refused()
    {
        var refused = Assert.Throws<ArgumentException>(() => WindTriangle.FromLegs([(100, 90), (101, 180)]));
        Assert.StartsWith("At least three legs are needed, not 2.", refused.Message, StringComparison.Ordinal);
    }

    [Property(MaxTest = 500, Replay = Draw.Seed)]
    public Property Wind_comes_back_from_what_it_made_and_turns_with_the_world() =>
        Draw.Always(
            from heading in Draw.Between(0, 360)
            from tas in Draw.Between(60, 180)
            from wind in Air
            from turn in Draw.Between(0, 360)
            select (heading, tas, wind, turn),
            drawn =>
            {
                var (heading, tas, (from, kt), turn) = drawn;
                var (east, north) = WindTriangle.OverGround(heading, tas, from, kt);
                var (fromDeg, speedKt) = WindTriangle.Wind(east, north, heading, tas);
                Assert.Equal(kt, speedKt, 1e-9);
                Assert.Equal(0, Angles.DifferenceDeg(fromDeg, from), 1e-6);
                var (sin, cos) = Math.SinCos(Units.DegToRad(turn));
                var (turnedEast, turnedNorth) = WindTriangle.OverGround(heading + turn, tas, from + turn, kt);
                Assert.Equal((east * cos) + (north * sin), turnedEast, 1e-9);
                Assert.Equal((north * cos) - (east * sin), turnedNorth, 1e-9);
            }
        );

    [Property(MaxTest = 500, Replay = Draw.Seed)]
    public Property The_heading_found_makes_the_course_good_and_its_mirror_corrects_the_other_way() =>
        Draw.Always(
            from course in Draw.Between(0, 360)
            from tas in Draw.Between(60, 180)
            from wind in Air
            select (course, tas, wind),
            drawn =>
            {
                var (course, tas, (from, kt)) = drawn;
                var held = WindTriangle.Hold(course, tas, from, kt)!;
                var (east, north) = WindTriangle.OverGround(held.HeadingDeg, tas, from, kt);
                Assert.Equal(held.GroundSpeedKt, Math.Sqrt((east * east) + (north * north)), 1e-9);
                Assert.Equal(0, Angles.DifferenceDeg(Units.RadToDeg(Math.Atan2(east, north)), course), 1e-9);
                Assert.Equal(-held.CorrectionDeg, WindTriangle.Hold(-course, tas, -from, kt)!.CorrectionDeg, 1e-9);
            }
        );

    /// <summary>Whatever the scale: gliders in a wind stronger than they are, and jets.</summary>
    [Property(MaxTest = 500, Replay = Draw.Seed)]
    public Property Wind_and_airspeed_come_back_from_legs_on_spread_headings() =>
        Draw.Always(
            from first in Draw.Between(0, 360)
            from second in Draw.Between(60, 150)
            from third in Draw.Between(60, 150)
            from tas in Draw.Between(20, 900)
            from wind in Air
            select (first, second, third, tas, wind),
            drawn =>
            {
                var (first, second, third, tas, (from, kt)) = drawn;
                var legs = new[] { first, first + second, first + second + third, first + 30 }
                    .Select(heading =>
                    {
                        var (east, north) = WindTriangle.OverGround(heading, tas, from, kt);
                        return (Math.Sqrt((east * east) + (north * north)), Units.RadToDeg(Math.Atan2(east, north)));
                    })
                    .ToList();
                foreach (var flown in new[] { legs[..3], legs })
                {
                    var solution = WindTriangle.FromLegs(flown)!;
                    Assert.Equal(tas, solution.TrueAirspeedKt, 1e-6);
                    Assert.Equal(kt, solution.SpeedKt, 1e-6);
                    Assert.Equal(0, Angles.DifferenceDeg(solution.FromDeg, from), 1e-5);
                    Assert.Equal(0, solution.ResidualKt, 1e-6);
                }
            }
        );
}
