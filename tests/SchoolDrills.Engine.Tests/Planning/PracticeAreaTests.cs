using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Planning;
using Xunit;

namespace SchoolDrills.Engine.Tests.Planning;

public sealed class PracticeAreaTests
{
    private const double LatDeg = -43.7,
        LonDeg = 171.9;

    private static DrillPlan Plan(string slug, PlanConditions conditions) =>
        DrillPlan.Of(
            Catalogue.Templates.Single(t => t.Slug == slug),
            new DrillEntry(360, 3000, 90),
            Catalogue.Aircraft.Single(a => a.Slug == "tussock-four"),
            conditions
        );

    /// <summary>A corner by nautical miles east and north of the plains' middle: a mile is a minute of latitude.</summary>
    private static LatLon Corner(double eastNm, double northNm) =>
        new(LatDeg + (northNm / 60), LonDeg + (eastNm / 60 / Math.Cos(LatDeg * Math.PI / 180)));

    private static LatLon[] Rectangle(double widthNm, double heightNm) =>
        [
            Corner(-widthNm / 2, -heightNm / 2),
            Corner(widthNm / 2, -heightNm / 2),
            Corner(widthNm / 2, heightNm / 2),
            Corner(-widthNm / 2, heightNm / 2),
        ];

    /// <summary>By the angle the corners sweep around the point, a sum apart from the engine's.</summary>
    private static bool Inside(LatLon[] ring, LatLon p)
    {
        var swept = 0.0;
        for (var i = 0; i < ring.Length; i++)
        {
            var (a, b) = (ring[i], ring[(i + 1) % ring.Length]);
            swept += Math.IEEERemainder(
                Math.Atan2(b.LatDeg - p.LatDeg, b.LonDeg - p.LonDeg) - Math.Atan2(a.LatDeg - p.LatDeg, a.LonDeg - p.LonDeg),
                2 * Math.PI
            );
        }

        return Math.Abs(swept) > Math.PI;
    }

    [Fact]
    public void In_a_wide_area_the_suggested_start_keeps_the_whole_ground_path_inside_in_wind()
    {
        var ring = Rectangle(14, 14);
        var plan = Plan(
            "box-circles",
            new PlanConditions(Area: ring, DeclinationDeg: 24, Winds: [new WindLevel(1000, 300, 10), new WindLevel(5000, 320, 30)])
        );

        Assert.NotNull(plan.Area!.SuggestedStart);
        Assert.Equal(360, plan.Area.SuggestedHeadingMagDeg!.Value, 1e-6);
        Assert.True(plan.Area.SuggestedMarginNm > 0.5);
        Assert.Equal(841, plan.GroundPlaces!.Count);
        Assert.All(plan.GroundPlaces, p => Assert.True(Inside(ring, p)));
        Assert.Empty(plan.Cautions);
    }

    [Fact]
    public void In_an_L_shaped_area_the_drill_is_placed_in_the_leg_that_holds_it()
    {
        LatLon[] ring = [Corner(-8, -8), Corner(8, -8), Corner(8, -2), Corner(-2, -2), Corner(-2, 8), Corner(-8, 8)];
        var plan = Plan("racetrack", new PlanConditions(Area: ring));

        Assert.NotNull(plan.Area!.SuggestedStart);
        Assert.All(plan.GroundPlaces!, p => Assert.True(Inside(ring, p)));
    }

    [Fact]
    public void A_narrow_area_is_flown_along_and_not_across()
    {
        var ring = Rectangle(12, 1.6);
        var plan = Plan("racetrack", new PlanConditions(Area: ring));

        Assert.Equal(90, plan.Area!.SuggestedHeadingMagDeg!.Value, 1e-6);
        Assert.All(plan.GroundPlaces!, p => Assert.True(Inside(ring, p)));
    }

    [Fact]
    public void Where_no_start_fits_the_plan_says_by_how_much()
    {
        var plan = Plan("racetrack", new PlanConditions(Area: Rectangle(2, 2)));

        Assert.Null(plan.Area!.SuggestedStart);
        Assert.Null(plan.GroundPlaces);
        Assert.True(plan.Area.SuggestedMarginNm < 0);
        Assert.StartsWith("No start on any of 12 headings keeps the whole drill inside", plan.Area.Text, StringComparison.Ordinal);
        Assert.Contains(plan.Area.Text, plan.Cautions);
    }

    [Fact]
    public void A_given_start_is_measured_to_the_boundary()
    {
        // The entry leg goes 3 min north at 94 kt true, 4.7 NM, and the circle of the turn 0.5 NM beyond: from 3 NM south of the edge it
        // leaves by about 2.2.
        var plan = Plan("racetrack", new PlanConditions(Area: Rectangle(20, 20), Start: Corner(0, 7)));

        Assert.Equal(-2.2, plan.Area!.GivenStartMarginNm!.Value, 0.1);
        Assert.StartsWith("From the given start the drill leaves the area by up to 2.2 NM.", plan.Area.Text, StringComparison.Ordinal);
        Assert.NotNull(plan.Area.SuggestedStart);
    }

    [Fact]
    public void A_boundary_that_crosses_itself_is_no_area() =>
        Assert.Equal(
            ["The area's boundary crosses itself."],
            new PlanConditions(Area: [Corner(-5, -5), Corner(5, 5), Corner(5, -5), Corner(-5, 5)]).Problems()
        );

    [Fact]
    public void Two_corners_are_no_area() =>
        Assert.Equal(["The area needs 3 to 100 corners."], new PlanConditions(Area: [Corner(0, 0), Corner(1, 1)]).Problems());

    [Fact]
    public void An_area_across_the_date_line_is_one_area()
    {
        LatLon[] ring = [new(-17, 179.8), new(-17, -179.8), new(-16.6, -179.8), new(-16.6, 179.8)];
        var plan = Plan("racetrack", new PlanConditions(Area: ring));

        Assert.NotNull(plan.Area!.SuggestedStart);
        Assert.All(plan.GroundPlaces!, p => Assert.True(Math.Abs(p.LonDeg) is >= 179.8 and <= 180));
    }

    [Fact]
    public void The_tightest_point_is_where_the_path_comes_closest_to_the_boundary()
    {
        // Three minutes north at 94 kt true are 4.7 NM, then a half circle of 0.5 NM: 6 NM from the edge leaves 0.8, at the top of
        // the turn, a quarter circle (30 s) after three minutes.
        var plan = Plan("racetrack", new PlanConditions(Area: Rectangle(20, 20), Start: Corner(0, 4)));

        Assert.Equal(plan.Area!.GivenStartMarginNm!.Value, plan.Tightest!.MarginNm, 1e-9);
        Assert.Equal(0.8, plan.Tightest.MarginNm, 0.1);
        Assert.Equal(210, plan.Tightest.AtS, 3.0);
        Assert.Equal(LatDeg + (9.2 / 60), plan.Tightest.Place.LatDeg, 0.003);
    }

    [Fact]
    public void Without_a_search_a_given_start_is_measured_and_none_is_suggested()
    {
        var plan = Plan("racetrack", new PlanConditions(Area: Rectangle(20, 20), Start: Corner(0, 7), Suggest: false));

        Assert.Equal(-2.2, plan.Area!.GivenStartMarginNm!.Value, 0.1);
        Assert.Null(plan.Area.SuggestedStart);
        Assert.Null(plan.Area.SuggestedMarginNm);
        Assert.Equal("From the given start the drill leaves the area by up to 2.2 NM.", plan.Area.Text);
        Assert.Equal([plan.Area.Text], plan.Cautions);
    }

    [Fact]
    public void Height_margins_say_how_much_and_when()
    {
        // Up to 4,000 ft and down to 3,000 ft: the whole of the box is flown between.
        var plan = Plan("vertical-s", new PlanConditions(FloorFt: 2500, CeilingFt: 3400));

        Assert.Equal(new HeightMargin(2500, 500, 0), plan.FloorMargin);
        Assert.Equal(3400, plan.CeilingMargin!.LimitFt);
        Assert.Equal(3400 - plan.HighestAltitudeFt, plan.CeilingMargin.MarginFt);
        Assert.Equal(60, plan.CeilingMargin.AtS);
        Assert.Contains($"The drill goes up to {plan.HighestAltitudeFt:0} ft, above the ceiling of 3400 ft.", plan.Cautions);
    }

    [Fact]
    public void A_ceiling_below_the_floor_is_no_room() =>
        Assert.Equal(
            ["The ceiling must be an altitude in feet above the floor."],
            new PlanConditions(FloorFt: 3000, CeilingFt: 2500).Problems()
        );
}
