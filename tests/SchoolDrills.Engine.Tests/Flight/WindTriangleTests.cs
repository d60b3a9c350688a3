using SchoolDrills.Engine.Flight;
using Xunit;

namespace SchoolDrills.Engine.Tests.Flight;

public sealed class WindTriangleTests
{
    /// <summary>Source: WCA = asin(W sin(θw − TC)/TAS); the first row is the example of the FAA handbook (076°, 88 kt, from memory).</summary>
    [Theory]
    [InlineData(90, 120, 45, 40, -13.633, 76.37, 88.34)]
    [InlineData(360, 100, 270, 20, -11.537, 348.46, 97.98)]
    [InlineData(45, 110, 90, 25, 9.248, 54.25, 90.89)]
    [InlineData(180, 120, 240, 30, 12.504, 192.50, 102.15)]
    [InlineData(270, 95, 230, 15, -5.825, 264.17, 83.02)]
    public void The_heading_that_holds_a_course(double courseDeg, double tasKt, double windFromDeg, double windKt, double wcaDeg, double headingDeg, double groundSpeedKt)
    {
        var course = WindTriangle.Hold(courseDeg, tasKt, windFromDeg, windKt)!;
        Assert.Equal(wcaDeg, course.CorrectionDeg, 0.00051);
        Assert.Equal(headingDeg, course.HeadingDeg, 0.0051);
        Assert.Equal(groundSpeedKt, course.GroundSpeedKt, 0.0061);
    }

    [Fact]
    public void A_crosswind_stronger_than_the_aeroplane_has_no_heading() => Assert.Null(WindTriangle.Hold(360, 80, 90, 90));

    /// <summary>Source: D. Gray, "Using GPS to accurately establish true airspeed" (1998): three legs, TAS 130, wind 20.6 kt from 314.8°.</summary>
    [Fact]
    public void Three_legs_of_the_published_example()
    {
        var solution = WindTriangle.FromLegs([(140, 192), (112, 283), (120, 20)])!;
        Assert.Equal(129.9985, solution.TrueAirspeedKt, 0.001);
        Assert.Equal(20.633, solution.SpeedKt, 0.001);
        Assert.Equal(314.758, solution.FromDeg, 0.001);
        Assert.Equal(0, solution.ResidualKt, 1e-6);
    }

    /// <summary>Source: test pilot school four-leg sample, each triple: mean TAS 183.7267, winds 5.26/194.5, 3.58/181.5, 5.15/162.7, 6.44/177.9.</summary>
    [Fact]
    public void Four_legs_by_triples_of_the_published_sample()
    {
        (double, double)[] legs = [(178, 178), (185, 82), (188, 355), (184, 265)];
        int[][] triples = [[0, 1, 2], [1, 2, 3], [2, 3, 0], [3, 0, 1]];
        var solutions = triples.Select(t => WindTriangle.FromLegs([.. t.Select(i => legs[i])])!).ToList();
        Assert.Equal(183.7267, solutions.Average(s => s.TrueAirspeedKt), 0.0001);
        double[][] expected = [[5.26, 194.5], [3.58, 181.5], [5.15, 162.7], [6.44, 177.9]];
        foreach (var wind in expected)
        {
            Assert.Contains(solutions, s => Math.Abs(s.SpeedKt - wind[0]) < 0.006 && Math.Abs(s.FromDeg - wind[1]) < 0.06);
        }
    }

    /// <summary>Source: synthetic check, TAS 100, wind 270/20, headings 040, 160, 280: ground speeds 113.891, 108.481, 80.379.</summary>
    [Fact]
    public void Three_headings_a_third_of_a_circle_apart()
    {
        double[] headings = [40, 160, 280], expectedKt = [113.891, 108.481, 80.379];
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

    [Fact]
    public void Legs_along_one_line_do_not_tell() => Assert.Null(WindTriangle.FromLegs([(100, 90), (101, 90), (80, 270)]));

    [Fact]
    public void Wind_comes_back_from_what_it_made_and_turns_with_the_world()
    {
        var random = new Random(5);
        for (var i = 0; i < 300; i++)
        {
            double heading = 360 * random.NextDouble(), tas = 60 + (120 * random.NextDouble()), from = 360 * random.NextDouble(), kt = 1 + (40 * random.NextDouble()), turn = 360 * random.NextDouble();
            var (east, north) = WindTriangle.OverGround(heading, tas, from, kt);
            var wind = WindTriangle.Wind(east, north, heading, tas);
            Assert.Equal(kt, wind.SpeedKt, 1e-9);
            Assert.Equal(0, Angles.DifferenceDeg(wind.FromDeg, from), 1e-6);
            var (turnedEast, turnedNorth) = WindTriangle.OverGround(heading + turn, tas, from + turn, kt);
            Assert.Equal((east * east) + (north * north), (turnedEast * turnedEast) + (turnedNorth * turnedNorth), 1e-6);
        }
    }
}
