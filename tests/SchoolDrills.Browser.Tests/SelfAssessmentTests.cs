using System.Text.RegularExpressions;
using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

[Collection<AtGrading>]
public sealed partial class SelfAssessmentTests(SchoolSite site, Chromium chromium)
{
    [Theory]
    [InlineData("desk")]
    [InlineData("phone at night")]
    public async Task A_student_says_how_it_went_and_then_sees_both_side_by_side(string screen)
    {
        var attemptId = await site.ScoredAsync("timed-turns", screen == "desk" ? "f13.csv" : "f13.gpx");
        await using var student = await chromium.EnterAsync(
            site,
            SchoolsFixture.Student,
            screen == "desk" ? Screen.Desk : Screen.PhoneAtNight
        );
        await student.GoAsync($"/attempts/{attemptId}");
        var self = student.Region("How did it go?");
        var ribbon = self.GetByRole(AriaRole.Group, new() { Name = "Segments, tap those that slipped" }).GetByRole(AriaRole.Button);
        var third = ribbon.Nth(2);
        await Expect(third).ToHaveAccessibleNameAsync(NotRated());
        await Expect(student.Page.Locator(".verdict-line")).ToHaveCountAsync(0);
        Assert.Empty(await student.FlawsAsync());

        // Once for close, twice for not met; the keyboard taps as well as a finger.
        await third.ClickAsync();
        await Expect(third).ToHaveAccessibleNameAsync(RatedClose());
        await third.PressAsync("Enter");
        await Expect(third).ToHaveAccessibleNameAsync(RatedNotMet());
        await student.Button("The rest was within").ClickAsync();
        var segments = await ribbon.CountAsync();
        await Expect(self.GetByRole(AriaRole.Status)).ToHaveTextAsync($"{segments - 1} met, 1 not met");
        await self.GetByRole(AriaRole.Radio, new() { Name = "4 very busy" }).CheckAsync();
        // Who wants to say it segment by segment finds there what was tapped.
        await self.GetByText("Rate segment by segment").ClickAsync();
        await Expect(self.GetByRole(AriaRole.Radio, new() { Name = "not met" }).Nth(2)).ToBeCheckedAsync();
        Assert.Empty(await student.FlawsAsync());
        await student.Button("Save and see the score").ClickAsync();
        await Expect(student.Page.Locator(".verdict-line")).ToBeVisibleAsync();
        if (screen != "desk")
            await student.Page.GetByRole(AriaRole.Tab, new() { Name = "Segments" }).ClickAsync();
        var both = student.Region("Your own rating");
        await Expect(both).ToContainTextAsync($"of {segments} segments");
        await Expect(both).ToContainTextAsync("Own workload: 4 very busy.");

        // Said once, it is not asked again.
        await student.GoAsync($"/attempts/{attemptId}");
        await Expect(student.Page.Locator(".verdict-line")).ToBeVisibleAsync();
        await Expect(self).ToHaveCountAsync(0);
        Assert.Empty(student.Faults);
    }

    [GeneratedRegex(@"^3\. .+: not rated$")]
    private static partial Regex NotRated();

    [GeneratedRegex(@"^3\. .+: close$")]
    private static partial Regex RatedClose();

    [GeneratedRegex(@"^3\. .+: not met$")]
    private static partial Regex RatedNotMet();
}
