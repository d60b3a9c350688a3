using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

[Collection<AtGrading>]
public sealed class SelfAssessmentTests(SchoolSite site, Chromium chromium)
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
        await Expect(self.GetByRole(AriaRole.Group)).ToHaveCountAsync(8);
        await Expect(student.Page.Locator(".verdict-line")).ToHaveCountAsync(0);
        Assert.Empty(await student.FlawsAsync());

        await self.GetByRole(AriaRole.Radio, new() { Name = "4 very busy" }).CheckAsync();
        await self.GetByRole(AriaRole.Group).Nth(2).GetByRole(AriaRole.Radio, new() { Name = "outside" }).CheckAsync();
        await student.Button("Show the score").ClickAsync();
        await Expect(student.Page.Locator(".verdict-line")).ToBeVisibleAsync();
        var both = student.Region("Your own rating");
        await Expect(both).ToContainTextAsync("of 1 segment");
        await Expect(both).ToContainTextAsync("Own workload: 4 very busy.");

        // Said once, it is not asked again.
        await student.GoAsync($"/attempts/{attemptId}");
        await Expect(student.Page.Locator(".verdict-line")).ToBeVisibleAsync();
        await Expect(self).ToHaveCountAsync(0);
        Assert.Empty(student.Faults);
    }
}
