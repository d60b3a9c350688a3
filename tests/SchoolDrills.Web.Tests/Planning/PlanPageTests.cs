using System.Net;
using AngleSharp.Dom;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Planning;
using SchoolDrills.Web.Planning;

namespace SchoolDrills.Web.Tests.Planning;

public sealed class PlanPageTests : PageTest
{
    private static readonly Guid Id = SampleSchool.AssignmentId;

    private static readonly PlanDrill Asked = new(
        "tussock-four",
        QnhHpa: 1009,
        Area: PlanSchool.Plains.Polygon,
        AreaName: "Plains West",
        Start: PlanSchool.Middle,
        Winds: [new WindLevel(3000, 290, 15)]
    );

    private static SchoolApi WithAssignment(string role, AssignmentPlan? plan) =>
        PlanSchool.For(role, PlanSchool.Plains).Answer($"assignments/{Id}", SampleSchool.Assignment() with { Plan = plan });

    private static AssignmentPlan Kept(int revision, params string[] differences) =>
        new(Asked, revision, "Hana Whitcombe", SampleSchool.Now, 1, differences);

    [Theory]
    [InlineData(Roles.Student)]
    [InlineData(Roles.Instructor)]
    public void A_drill_is_drawn_over_its_area_with_the_numbers_to_fly(string role)
    {
        var page = Open<PlanPage>(PlanSchool.For(role, PlanSchool.Plains), role, p => p.Add(x => x.Slug, "racetrack"));

        Assert.Equal("Flyable, inside Plains West.", page.Find(".outcome .lead").TextContent);
        Assert.Contains("Plains West", page.Find("svg.map").TextContent);
        Assert.Contains("43°40′S", page.Find("svg.map").TextContent);
        var text = page.Find(".picture").TextContent;
        Assert.Contains("true airspeed", text);
        Assert.Contains("Roll out 7° before the heading.", text);
        Assert.Contains("The drill does not climb.", text);
        Assert.Contains("500 ft above 2,500 ft at 0:00.", text);
        // Nothing is kept of a drill's plan.
        Assert.DoesNotContain(page.FindAll("button"), b => b.TextContent.Contains("Keep", StringComparison.Ordinal));
    }

    [Fact]
    public void A_slider_redraws_without_asking_the_server()
    {
        var api = PlanSchool.For(Roles.Student, PlanSchool.Plains);
        var page = Open<PlanPage>(api, Roles.Student, p => p.Add(x => x.Slug, "racetrack"));
        var asked = api.Asked.Count;
        var before = page.Find("svg.map .path").GetAttribute("d");

        page.Find("input[aria-label='Tried wind: speed, knots']").Input("30");
        page.Find("input[aria-label='Tried wind: from, degrees true']").Input("270");

        Assert.NotEqual(before, page.Find("svg.map .path").GetAttribute("d"));
        // 30 kt for seven minutes.
        Assert.Contains("3.5 NM", page.Find(".numbers").TextContent);
        Assert.Contains("270° 30 kt", page.Find("svg.map").TextContent);
        Assert.Equal(asked, api.Asked.Count);
        Button(page, "Back to the wind above").Click();
        Assert.Equal(before, page.Find("svg.map .path").GetAttribute("d"));
    }

    [Fact]
    public void Pasted_weather_fills_rows_QNH_and_temperature_says_what_it_did_not_understand_and_can_be_taken_back()
    {
        var page = Open<PlanPage>(PlanSchool.For(Roles.Student, PlanSchool.Plains), Roles.Student, p => p.Add(x => x.Slug, "racetrack"));
        page.Find("form textarea").Input("METAR NZXX 280700Z 27O15KT 9999 15/08 Q1009=\n3000 290/20 +08\n5000 300/30 +04");
        Button(page, "Read it").Click();

        Assert.Contains("'NZXX: 27O15KT' is no group of a METAR; it was left out.", page.Find(".not").TextContent);
        Assert.Equal(["290", "300"], Winds().Select(r => r[1]));
        Assert.Equal("1009", page.Find("input[placeholder='1013.25']").GetAttribute("value"));
        Assert.Equal("8", page.Find("input[placeholder='standard']").GetAttribute("value"));
        Button(page, "Back to what was there").Click();
        Assert.Null(Assert.Single(Winds())[1]);
        Assert.True(string.IsNullOrEmpty(page.Find("input[placeholder='1013.25']").GetAttribute("value")));

        List<string?[]> Winds() =>
            [.. page.FindAll(".winds tbody tr").Select(r => r.QuerySelectorAll("input").Select(i => i.GetAttribute("value")).ToArray())];
    }

    [Fact]
    public void What_forbids_it_is_said_first_and_a_typing_error_leaves_the_last_picture()
    {
        var page = Open<PlanPage>(PlanSchool.For(Roles.Student, PlanSchool.Plains), Roles.Student, p => p.Add(x => x.Slug, "racetrack"));
        Field(page, "Floor, ft").Change("3500");
        Assert.Contains("The drill goes down to 3000 ft, below the floor of 3500 ft.", page.Find(".outcome .problem").TextContent);
        Field(page, "QNH, hPa").Change("500");
        Assert.Contains("The altimeter setting must be 870 to 1085 hPa.", page.Find(".outcome [role=alert]").TextContent);
        Assert.NotNull(page.Find("svg.map .path"));
    }

    [Fact]
    public void A_kept_plan_says_who_kept_it_and_where_it_is_not_for_what_is_assigned()
    {
        var api = WithAssignment(Roles.Student, Kept(3, "Planned for heading 360°; 090° is assigned."));
        var page = Open<PlanPage>(api, Roles.Student, p => p.Add(x => x.Id, Id));

        Assert.Contains("Planned for heading 360°; 090° is assigned.", page.Find(".notice").TextContent);
        Assert.Contains("Kept by Hana Whitcombe", page.Find("form [role=status]").TextContent);
        Assert.Contains("290° 15 kt", page.Find("svg.map").TextContent);
    }

    [Fact]
    public void Where_somebody_kept_another_plan_meanwhile_theirs_can_be_loaded_or_replaced()
    {
        var api = WithAssignment(Roles.Instructor, null);
        var page = Open<PlanPage>(api, Roles.Instructor, p => p.Add(x => x.Id, Id));
        api.Refuse($"assignments/{Id}/plan", HttpStatusCode.Conflict, "Hana Whitcombe saved a plan for this assignment meanwhile.");
        api.Answer($"assignments/{Id}", SampleSchool.Assignment() with { Plan = Kept(1) });
        page.Find("form").Submit();

        Assert.Contains("Hana Whitcombe saved a plan", page.Find("form [role=alert]").TextContent);
        api.Answer($"assignments/{Id}/plan", Kept(2));
        Button(page, "Keep mine instead").Click();
        Assert.Contains("Kept by Hana Whitcombe", page.Find("form [role=status]").TextContent);
        Assert.DoesNotContain(page.FindAll("button"), b => b.TextContent.Contains("instead", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Handles_move_start_and_heading_by_pointer_and_by_keys()
    {
        var page = Open<PlanPage>(PlanSchool.For(Roles.Student, PlanSchool.Plains), Roles.Student, p => p.Add(x => x.Slug, "racetrack"));
        var view = page.FindComponent<PlanMapView>();
        var start = view.Instance.Draft.Start!.Value;

        await page.InvokeAsync(() => view.Instance.StartNudgedAsync(0, -1));
        Assert.Equal(start.LatDeg - (1 / 60.0), view.Instance.Draft.Start!.Value.LatDeg, 0.0002);
        await page.InvokeAsync(() => view.Instance.StartMovedAsync(50, 0, true));
        Assert.True(view.Instance.Draft.Start!.Value.LonDeg > start.LonDeg);
        await page.InvokeAsync(() => view.Instance.HeadingNudgedAsync(5));
        Assert.Equal("5", page.Find("[data-drag=heading]").GetAttribute("aria-valuenow"));
        await page.InvokeAsync(() => view.Instance.HeadingTurnedAsync(114, false));
        Assert.Equal("090°", page.Find("[data-drag=heading]").GetAttribute("aria-valuetext"));
        // Whatever a script sends, the start stays a place.
        await page.InvokeAsync(() => view.Instance.StartMovedAsync(double.NaN, 1e9, false));
        Assert.True(Math.Abs(view.Instance.Draft.Start!.Value.LatDeg + 43.7) < 1);
    }

    [Fact]
    public void A_school_without_areas_or_aircraft_is_told_the_way_on()
    {
        var none = Open<PlanPage>(
            PlanSchool.For(Roles.Chief).Answer<IReadOnlyList<Engine.Drills.AircraftProfile>>("aircraft", []),
            Roles.Chief,
            p => p.Add(x => x.Slug, "racetrack")
        );

        Assert.Contains("The school has no aircraft to plan with", none.Find("[role=alert]").TextContent);
        Assert.NotNull(none.Find("a[href='/school/areas']"));
    }

    private static IElement Field(IRenderedComponent<PlanPage> page, string label) =>
        page.FindAll("label.field").Single(l => l.TextContent.Trim() == label).QuerySelector("input")!;
}
