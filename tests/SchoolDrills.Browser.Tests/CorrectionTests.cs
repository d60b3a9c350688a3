using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

[Collection<AtGrading>]
public sealed class CorrectionTests(SchoolSite site, Chromium chromium)
{
    [Theory]
    [InlineData("desk")]
    [InlineData("phone at night")]
    public async Task A_stretch_is_left_out_scored_anew_and_taken_back(string screen)
    {
        var attemptId = await site.ScoredAsync("timed-turns", screen == "desk" ? "f13.csv" : "f13.nmea");
        await using var instructor = await chromium.EnterAsync(
            site,
            SchoolsFixture.Instructor,
            screen == "desk" ? Screen.Desk : Screen.PhoneAtNight
        );
        await instructor.GoAsync($"/attempts/{attemptId}");
        var corrections = instructor.Region("Corrections");
        await instructor.Button("Correct times or conditions").ClickAsync();
        await instructor.Button("Leave out a stretch").ClickAsync();
        await instructor.Page.GetByLabel("Why stretch 1 is left out").FillAsync("Traffic.");
        Assert.Empty(await instructor.FlawsAsync());
        await instructor.Button("Rescore with these").ClickAsync();

        var anew = instructor.Page.GetByText("The score below is the previous one");
        await Expect(anew).ToBeVisibleAsync();
        await Expect(instructor.Page.Locator(".verdict-line")).ToBeVisibleAsync();
        await site.ScoreAsync(attemptId);
        await Expect(anew).ToHaveCountAsync(0);
        await Expect(corrections.GetByRole(AriaRole.Listitem)).ToContainTextAsync("left out: Traffic.");
        await Expect(corrections).ToContainTextAsync("holds");
        await Expect(instructor.Page.GetByText("The engine's own:")).ToBeVisibleAsync();

        await instructor.Button("Use the engine's boundaries").ClickAsync();
        await Expect(anew).ToBeVisibleAsync();
        await site.ScoreAsync(attemptId);
        await Expect(anew).ToHaveCountAsync(0);
        await Expect(instructor.Page.GetByText("The engine's own:")).ToHaveCountAsync(0);
        await Expect(corrections.GetByRole(AriaRole.Listitem)).ToHaveCountAsync(2);
        Assert.Empty(instructor.Faults);
    }

    [Fact]
    public async Task What_cannot_be_true_is_refused_on_the_page_and_what_was_written_stays()
    {
        var attemptId = await site.ScoredAsync("timed-turns", "f13.csv");
        var own = (
            await (await site.AsAsync(SchoolsFixture.Instructor)).AttemptAsync(attemptId, TestContext.Current.CancellationToken)
        ).Score!;
        await using var instructor = await chromium.EnterAsync(site, SchoolsFixture.Instructor);
        await instructor.GoAsync($"/attempts/{attemptId}");
        await instructor.Button("Correct times or conditions").ClickAsync();
        var start = instructor.Page.GetByLabel($"Start of 3. {own.Segments[2].Name}", new() { Exact = true });
        var tooLate = TimeZoneInfo
            .ConvertTime(own.Recording.EndUtc.AddMinutes(5), TimeZoneInfo.FindSystemTimeZoneById("Pacific/Auckland"))
            .ToString("HH:mm:ss", null);
        await start.FillAsync(tooLate);
        await start.BlurAsync();
        await instructor.Button("Rescore with these").ClickAsync();
        await Expect(instructor.Region("Corrections").GetByRole(AriaRole.Alert)).ToContainTextAsync("outside the recording");
        await Expect(start).ToHaveValueAsync(tooLate);
        Assert.Empty(
            (
                await (await site.AsAsync(SchoolsFixture.Instructor)).BoundariesAsync(attemptId, TestContext.Current.CancellationToken)
            ).History
        );
    }
}
