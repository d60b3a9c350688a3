using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>A plan as a person makes it: with the mouse, and with the keyboard alone.</summary>
[Collection<AtTheDemo>]
public sealed class PlanTests(DemoSite site, Chromium chromium)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_start_is_dragged_out_of_the_area_and_the_page_says_so_at_once_and_offers_the_way_back()
    {
        await using var instructor = await OpenAsync("instructor", "/drills/racetrack/plan");
        var page = instructor.Page;
        await Expect(page.Locator(".outcome")).ToContainTextAsync("Flyable, inside Plains East.");
        var start = page.Locator("[data-drag=start]");
        var box = (await start.BoundingBoxAsync())!;
        var path = await page.Locator("svg.map .path").GetAttributeAsync("d");

        await page.Mouse.MoveAsync(box.X + (box.Width / 2), box.Y + (box.Height / 2));
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(box.X + 40, box.Y - 150, new() { Steps = 8 });
        await page.Mouse.MoveAsync(box.X + 60, box.Y - 300, new() { Steps = 8 });
        await page.Mouse.UpAsync();

        await Expect(page.Locator(".outcome")).ToContainTextAsync("the drill leaves the area by up to");
        await Expect(page.Locator("svg.map .mark.out")).ToBeVisibleAsync();
        Assert.NotEqual(path, await page.Locator("svg.map .path").GetAttributeAsync("d"));
        await Expect(page.Locator("[data-moves][transform]")).ToHaveCountAsync(0);
        await instructor.Button("Start there").ClickAsync();
        await Expect(page.Locator(".outcome")).ToContainTextAsync("Flyable");
        Assert.Empty(instructor.Faults);
    }

    [Fact]
    public async Task With_the_keyboard_alone_start_heading_and_wind_are_set_and_the_plan_is_kept()
    {
        var api = await site.AsAsync("student");
        var open = (await api.AssignmentsAsync(ct: Cancel)).First(a => a.State == "open");
        await using var student = await OpenAsync("student", $"/assignments/{open.Id}/plan");
        var page = student.Page;

        await page.Locator("[data-drag=heading]").FocusAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await page.Keyboard.PressAsync("ArrowRight");
        await Expect(page.Locator("[data-drag=heading]")).ToHaveAttributeAsync("aria-valuetext", "010°");
        var start = page.Locator("[data-drag=start]");
        var before = await start.GetAttributeAsync("aria-label");
        await page.Keyboard.PressAsync("Tab");
        await Expect(start).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("Shift+ArrowDown");
        await Expect(start).Not.ToHaveAttributeAsync("aria-label", before!);
        await page.GetByLabel("Tried wind: speed, knots").FocusAsync();
        for (var i = 0; i < 12; i++)
            await page.Keyboard.PressAsync("ArrowRight");
        await Expect(page.Locator("svg.map")).ToContainTextAsync("12 kt");
        await student.Button("Keep with the assignment").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("form [role=status]")).ToContainTextAsync("Kept by");

        var kept = (await api.AssignmentAsync(open.Id, Cancel)).Plan!;
        Assert.Equal(10, kept.Asked.HeadingMagDeg);
        Assert.Equal(12, Assert.Single(kept.Asked.Winds!).SpeedKt);
        // As it was kept, so it opens.
        await student.GoAsync($"/assignments/{open.Id}/plan");
        await Expect(page.Locator("svg.map")).ToContainTextAsync("12 kt");
        await Expect(page.Locator("[data-drag=heading]")).ToHaveAttributeAsync("aria-valuetext", "010°");
        await Expect(page.Locator(".notice")).ToContainTextAsync("Planned for heading 010°");
        Assert.Empty(student.Faults);
    }

    [Fact]
    public async Task The_chief_adds_an_area_from_a_file_and_takes_it_out_again()
    {
        await using var chief = await OpenAsync("chief", "/school/areas");
        var page = chief.Page;
        const string Area = """
            {"type":"Feature","properties":{"name":"River block","floorFt":3000},
             "geometry":{"type":"Polygon","coordinates":[[[171.6,-43.5],[171.8,-43.5],[171.8,-43.4],[171.6,-43.5]]]}}
            """;
        await page.GetByLabel("GeoJSON: a Feature or FeatureCollection of polygons")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "river.geojson",
                    MimeType = "application/geo+json",
                    Buffer = System.Text.Encoding.UTF8.GetBytes(Area),
                }
            );
        await Expect(page.Locator("form textarea")).ToHaveValueAsync(new System.Text.RegularExpressions.Regex("River block"));
        await chief.Button("Add").ClickAsync();
        await Expect(page.Locator(".lines")).ToContainTextAsync("River block");
        await chief.Button("Remove River block").ClickAsync();
        await chief.Button("Remove").ClickAsync();
        await Expect(page.Locator(".lines")).Not.ToContainTextAsync("River block");
        Assert.Empty(chief.Faults);
    }

    private async Task<Visitor> OpenAsync(string person, string path)
    {
        var visitor = await chromium.VisitAsync(site.Address, Screen.Desk);
        await visitor.SignInAsync(DemoSite.EmailOf(person), DemoSite.Password);
        await visitor.GoAsync(path);
        return visitor;
    }
}
