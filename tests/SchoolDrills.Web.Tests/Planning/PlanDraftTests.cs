using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Planning;
using SchoolDrills.Web.Planning;

namespace SchoolDrills.Web.Tests.Planning;

public sealed class PlanDraftTests
{
    private static readonly DrillTemplate Racetrack = Catalogue.Templates.Single(t => t.Slug == "racetrack");

    private static PlanDraft Draft(params Contracts.SchoolArea[] areas) =>
        new(Racetrack, Racetrack.Entry, PlanSchool.Aircraft, areas, new PageTest.FixedClock(SampleSchool.Now));

    [Fact]
    public void A_new_plan_starts_where_the_drill_lies_best_in_the_first_area_on_the_heading_asked()
    {
        var draft = Draft(PlanSchool.Plains);

        Assert.Null(draft.Problem);
        Assert.Equal((360.0, 2500.0, 6500.0), (draft.HeadingMagDeg, draft.FloorFt, draft.CeilingFt));
        Assert.True(draft.Plan!.Tightest!.MarginNm > 4);
        Assert.Empty(draft.Plan.Cautions);
        // The declination of that place and day, WMM2025: about 24° east.
        Assert.Equal(24, draft.DeclinationDeg, 1.0);
    }

    [Fact]
    public void A_drill_that_fits_on_another_heading_alone_is_offered_there_and_not_turned_by_itself()
    {
        // Two miles high and sixteen wide: only along it.
        var wide = PlanSchool.Area("Strip", 8);
        var lat = 1.3 / 60;
        var corners = MapGround
            .Corners(wide)
            .Select(c => c with { LatDeg = PlanSchool.Middle.LatDeg + (Math.Sign(c.LatDeg + 43.7) * lat) });
        var draft = Draft(wide with { Polygon = Contracts.PlanInputs.Polygon([.. corners]) });

        Assert.Equal(360, draft.HeadingMagDeg);
        Assert.True(draft.Plan!.Tightest!.MarginNm < 0);
        draft.UseSuggestion();
        Assert.NotEqual(360, draft.HeadingMagDeg);
        Assert.True(draft.Plan!.Tightest!.MarginNm >= 0);
        Assert.Empty(draft.Plan.Cautions);
    }

    [Fact]
    public void Half_written_winds_are_named_and_nothing_is_planned_with_them()
    {
        var draft = Draft(PlanSchool.Plains);
        draft.Winds[0].FromDegTrue = 270;
        draft.AsTyped();
        Assert.Equal("Wind 1 needs a direction and a speed.", draft.Problem);
        draft.Winds[0].SpeedKt = 15;
        draft.Winds.Add(new WindRow { FromDegTrue = 290, SpeedKt = 25 });
        draft.AsTyped();
        Assert.Equal("Each wind needs a height of its own.", draft.Problem);
        draft.Winds[0].AltitudeFt = 2000;
        draft.Winds[1].AltitudeFt = 4000;
        draft.AsTyped();
        Assert.Null(draft.Problem);
        Assert.Equal([new WindLevel(2000, 270, 15), new WindLevel(4000, 290, 25)], draft.Asked.Winds);
        draft.Winds[1].FromDegTrue = null;
        draft.AsTyped();
        Assert.Equal("Wind 2 needs a direction and a speed.", draft.Problem);
    }

    [Fact]
    public void A_wind_that_is_tried_turns_all_heights_and_leaves_the_typed_ones()
    {
        var draft = Draft(PlanSchool.Plains);
        draft.Put([new WindLevel(3000, 270, 10), new WindLevel(5000, 280, 20)]);
        draft.Make();
        Assert.Equal((270.0, 10.0), Rounded(draft.EntryWind));

        draft.Try(300, 20);
        Assert.Equal([new WindLevel(3000, 300, 20), new WindLevel(5000, 310, 40)], draft.Asked.Winds);
        // Seven minutes of 20 kt.
        Assert.Equal(20 * 7 / 60.0, draft.Plan!.Drift.TotalNm, 0.02);
        Assert.Equal(270, draft.Winds[0].FromDegTrue);
        draft.AsTyped();
        Assert.Equal(10 * 7 / 60.0, draft.Plan!.Drift.TotalNm, 0.02);

        static (double, double) Rounded((double From, double Kt) wind) => (Math.Round(wind.From, 6), Math.Round(wind.Kt, 6));
    }

    [Fact]
    public void A_kept_plan_comes_back_as_it_was_even_in_an_area_the_school_has_no_more()
    {
        var before = Draft(PlanSchool.Plains);
        before.Put([new WindLevel(3000, 270, 10)]);
        (before.QnhHpa, before.OatC, before.HalfRate, before.Mirrored) = (1009, 12, true, true);
        before.MoveStart(new LatLon(-43.75, 171.95));

        var after = Draft(PlanSchool.Area("Elsewhere", 4));
        after.Take(before.Asked);

        Assert.Equal("Plains West, as planned", after.Area!.Name);
        Assert.Equal(before.Plan!.Tightest, after.Plan!.Tightest);
        Assert.Equal(
            before.Asked with
            {
                Area = null,
                AreaName = null,
                Winds = null,
            },
            after.Asked with
            {
                Area = null,
                AreaName = null,
                Winds = null,
            }
        );
        Assert.Equal(before.Asked.Winds, after.Asked.Winds);
        // And the same from the school's own area.
        var same = Draft(PlanSchool.Area("Elsewhere", 4), PlanSchool.Plains);
        same.Take(before.Asked);
        Assert.Same(PlanSchool.Plains, same.Area);
    }

    [Theory]
    [InlineData(70_000.0, 90.0, "The entry altitude")]
    [InlineData(3000.0, 900.0, "The entry airspeed")]
    public void What_cannot_be_entered_is_said(double altitudeFt, double airspeedKt, string problem)
    {
        var draft = Draft();
        (draft.AltitudeFt, draft.AirspeedKt) = (altitudeFt, airspeedKt);
        draft.Make();

        Assert.Null(draft.Plan);
        Assert.Contains(problem[4..], draft.Problem, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void The_map_holds_still_while_the_start_is_dragged_and_puts_it_where_the_pointer_is()
    {
        var draft = Draft(PlanSchool.Plains);
        var first = new PlanMap(draft, draft.Plan!, null);
        draft.MoveStart(first.PlaceAt(30, -20), dragging: true);
        var second = new PlanMap(draft, draft.Plan!, first);

        Assert.Equal(first.Start.X + 30, second.Start.X, 0.05);
        Assert.Equal(first.Start.Y - 20, second.Start.Y, 0.05);
        Assert.Equal(first.BarPx, second.BarPx);
        var north = second.PlaceBeside(0, 1);
        // 43.7° south a minute of latitude is 1,852.0 m.
        Assert.Equal(1 / 60.0, north.LatDeg - draft.Start!.Value.LatDeg, 0.0001);
    }
}
