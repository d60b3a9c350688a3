using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Planning;
using Xunit;

namespace SchoolDrills.Engine.Tests.Planning;

/// <summary>Ground paths that can be written down: a steady turn in a uniform wind is a trochoid, a straight leg a wind triangle.</summary>
public sealed class GroundPathTests
{
    private static DrillTemplate Drill(params Segment[] segments) =>
        new()
        {
            Slug = "by-hand",
            Title = "By hand",
            Purpose = "A path that can be written down.",
            StandardSlug = "acs-instrument",
            Entry = new DrillEntry(360, 3000, 90),
            Segments = segments,
        };

    [Theory]
    [InlineData(270, 20)]
    [InlineData(45, 35)]
    [InlineData(180, 90)]
    public void A_steady_turn_in_a_uniform_wind_is_a_trochoid(double fromDeg, double windKt)
    {
        const double TrueKt = 100,
            RateDegPerS = 3;
        var timeline = DrillTimeline.Resolve(Drill(new Segment { Name = "Circle", TurnDeg = 360 }), new DrillEntry(360, 3000, 90));
        var winds = new WindsAloft([new WindLevel(3000, fromDeg, windKt)]);

        var path = NominalPath.Of(timeline, TrueKt, 0, winds.At, PathLimits.None);

        // x = R(1 − cos ωt) + w_x t, y = R sin ωt + w_y t with R = V/ω, from north and to the right.
        var (vMps, wMps, omega) = (TrueKt * 1852 / 3600, windKt * 1852 / 3600, RateDegPerS * Math.PI / 180);
        var (wEast, wNorth) = (-wMps * Math.Sin(fromDeg * Math.PI / 180), -wMps * Math.Cos(fromDeg * Math.PI / 180));
        for (var i = 0; i < path.TimeS.Length; i++)
        {
            var t = path.TimeS[i];
            // The columns are a tenth of a second fine.
            Assert.Equal((vMps / omega * (1 - Math.Cos(omega * t))) + (wEast * t), path.EastM[i], 0.5);
            Assert.Equal((vMps / omega * Math.Sin(omega * t)) + (wNorth * t), path.NorthM[i], 0.5);
        }
    }

    [Theory]
    // TH, TAS, wind and the ground speed and track of the wind triangle (FAA PHAK's example: course 090, 120 kt, wind 045/40 gives heading
    // 076.37 and 88.34 kt; course 360, 100 kt, wind 270/20 gives 348.46 and 97.98 kt).
    [InlineData(76.367, 120, 45, 40, 88.34, 90)]
    [InlineData(348.463, 100, 270, 20, 97.98, 360)]
    public void A_straight_leg_goes_where_the_wind_triangle_says(
        double headingDeg,
        double trueKt,
        double fromDeg,
        double windKt,
        double groundKt,
        double courseDeg
    )
    {
        var timeline = DrillTimeline.Resolve(Drill(new Segment { Name = "Leg", DurationS = 60 }), new DrillEntry(headingDeg, 3000, 90));

        var path = NominalPath.Of(timeline, trueKt, 0, new WindsAloft([new WindLevel(0, fromDeg, windKt)]).At);

        var (east, north) = (path.EastM[^1], path.NorthM[^1]);
        Assert.Equal(groundKt, Math.Sqrt((east * east) + (north * north)) / 1852 * 60, 0.01);
        Assert.Equal(courseDeg, Angles.NormalizeDeg(Units.RadToDeg(Math.Atan2(east, north))), 0.01);
    }

    [Fact]
    public void In_a_climb_the_wind_of_each_height_carries()
    {
        // 1,000 ft in two minutes, the wind from the west growing evenly from 10 to 30 kt: 20 kt for two minutes, two thirds of a mile.
        var drill = Drill(new Segment { Name = "Climb", ClimbFt = 1000 });
        var winds = new WindsAloft([new WindLevel(3000, 270, 10), new WindLevel(4000, 270, 30)]);

        var path = NominalPath.Of(DrillTimeline.Resolve(drill, drill.Entry), 100, 0, winds.At);

        Assert.Equal(1852 * 20 * 120 / 3600.0, path.EastM[^1], 2);
    }

    [Fact]
    public void Winds_are_turned_and_strengthened_together_so_that_one_height_has_what_is_set()
    {
        IReadOnlyList<WindLevel> forecast = [new(2000, 250, 10), new(4000, 270, 20)];

        Assert.Equal([new WindLevel(2000, 280, 15), new WindLevel(4000, 300, 30)], WindsAloft.With(forecast, 4000, 300, 30));
        Assert.Equal([new WindLevel(3000, 90, 12)], WindsAloft.With([], 3000, 90, 12));
        Assert.All(WindsAloft.With(forecast, 4000, 270, 140), w => Assert.InRange(w.SpeedKt, 0, 150));
    }
}
