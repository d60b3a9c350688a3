using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>Where the parts of a debrief lie: one screen at a desk, tabs on a phone.</summary>
[Collection<AtGrading>]
public sealed class DebriefLayoutTests(SchoolSite site, Chromium chromium)
{
    [Fact]
    public async Task Outcome_findings_ribbon_plots_and_grade_fit_one_screen_at_a_desk()
    {
        var attemptId = await site.ScoredAsync("box-circles", "f01.gpx");
        await using var instructor = await chromium.OpenDebriefAsync(site, SchoolsFixture.Instructor, attemptId);
        foreach (var part in (string[])[".verdict-line", ".ribbon-row", ".plots .plan", ".plots .strips", ".grade .bar"])
        {
            var box = (await instructor.Page.Locator(part).BoundingBoxAsync())!;
            Assert.True(box.Y >= 0 && box.Y + box.Height <= Screen.Desk.HeightPx, $"{part} ends at {box.Y + box.Height}");
        }

        // The segment chosen on the ribbon has its numbers and its row in the grade beside the plots.
        await instructor.Page.GetByRole(AriaRole.Toolbar, new() { Name = "Segments" }).GetByRole(AriaRole.Button).Nth(11).ClickAsync();
        var row = instructor.Page.Locator(".grade [data-row='11']");
        await Expect(row).ToBeInViewportAsync();
        await Expect(instructor.Page.Locator(".chosen-segment")).ToBeInViewportAsync();
        // And the other way round: the row that has the focus chooses its segment.
        await instructor.Page.Keyboard.PressAsync("g");
        await Expect(instructor.Page.GetByRole(AriaRole.Toolbar, new() { Name = "Segments" }).GetByRole(AriaRole.Button).First)
            .ToHaveAttributeAsync("aria-pressed", "true");
        await instructor.Page.Keyboard.PressAsync("3");
        await Expect(instructor.Region("Grade")).ToContainTextAsync("1 of 16 graded");
        await Expect(instructor.Page.GetByRole(AriaRole.Tab)).ToHaveCountAsync(0);
        Assert.Empty(instructor.Faults);
    }

    [Fact]
    public async Task A_phone_has_the_parts_in_tabs_that_the_address_keeps()
    {
        var attemptId = await site.ScoredAsync("box-circles", "f01.gpx");
        await using var instructor = await chromium.OpenDebriefAsync(site, SchoolsFixture.Instructor, attemptId, Screen.PhoneAtNight);
        var tabs = instructor.Page.GetByRole(AriaRole.Tab);
        await Expect(tabs).ToHaveTextAsync(["Picture", "Segments", "Grade"]);
        await Expect(instructor.Page.GetByRole(AriaRole.Tabpanel)).ToHaveAccessibleNameAsync("Picture");
        await Expect(instructor.Region("Grade")).ToHaveCountAsync(0);

        await tabs.First.PressAsync("ArrowRight");
        await Expect(instructor.Region("Segment by segment")).ToBeVisibleAsync();
        await Expect(tabs.Nth(1)).ToBeFocusedAsync();
        await FlawlessAsync();
        await tabs.Nth(2).ClickAsync();
        await Expect(instructor.Region("Grade")).ToBeVisibleAsync();
        await FlawlessAsync();
        Assert.EndsWith($"/attempts/{attemptId}#grade", instructor.Page.Url, StringComparison.Ordinal);

        await instructor.Page.ReloadAsync();
        await instructor.SettleAsync();
        await Expect(instructor.Region("Grade")).ToBeVisibleAsync();
        // The plots wait for room and are drawn once they have it.
        await tabs.First.ClickAsync();
        await Expect(instructor.Page.Locator(".plots .strips")).ToBeVisibleAsync();
        Assert.True((await instructor.Page.Locator(".plots .strips").BoundingBoxAsync())!.Height > 300);
        Assert.Empty(instructor.Faults);

        async Task FlawlessAsync()
        {
            var axe = await instructor.Page.RunAxe();
            Assert.Empty(axe.Violations.SelectMany(v => v.Nodes.Select(n => $"{v.Id}: {n.Html}")));
            Assert.False(
                await instructor.Page.EvaluateAsync<bool>(
                    "() => document.documentElement.scrollWidth > document.documentElement.clientWidth"
                )
            );
        }
    }

    [Fact]
    public async Task Sign_and_next_opens_the_next_attempt_that_waits_for_a_grade()
    {
        var first = await site.ScoredAsync("timed-turns", "f13.csv");
        var second = await site.ScoredAsync("timed-turns", "f13.csv");
        await using var instructor = await chromium.OpenDebriefAsync(site, SchoolsFixture.Instructor, first);
        await instructor.Page.GetByRole(AriaRole.Radio, new() { Name = "The whole: To standard" }).CheckAsync(new() { Force = true });
        await instructor.Button("Sign and next").ClickAsync();
        await instructor.Page.GetByRole(AriaRole.Dialog).GetByRole(AriaRole.Button, new() { Name = "Sign", Exact = true }).ClickAsync();
        await instructor.Page.WaitForURLAsync($"**/attempts/{second}");
        await Expect(instructor.Region("Grade")).ToContainTextAsync("0 of ");
        await Expect(instructor.Page.Locator(".plots[data-state=ready]")).ToBeVisibleAsync();
        Assert.Empty(instructor.Faults);
    }
}
