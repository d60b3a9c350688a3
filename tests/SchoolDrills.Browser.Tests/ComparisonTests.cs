using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>Two attempts over each other, from the debrief.</summary>
[Collection<AtTheSchool>]
public sealed class ComparisonTests(SchoolSite site, Chromium chromium)
{
    [Fact]
    public async Task The_comparison_opens_from_the_debrief_draws_and_follows_the_keys()
    {
        // The same flight twice: neither is before the other, so the best of the others is what there is to compare with.
        await site.ScoredAsync("box-circles", "f01.gpx");
        var attempt = await site.ScoredAsync("box-circles", "f01.gpx");
        await using var visitor = await chromium.OpenDebriefAsync(site, SchoolsFixture.Instructor, attempt);
        await visitor.Page.GetByRole(AriaRole.Link, new() { Name = "Compare", Exact = true }).ClickAsync();
        await Expect(visitor.Page.Locator(".overlay[data-state=ready]")).ToBeVisibleAsync();
        Assert.True(
            await visitor
                .Page.Locator(".overlay .strips canvas")
                .EvaluateAsync<bool>("c => c.getContext('2d').getImageData(0, 0, c.width, c.height).data.some(v => v > 0)")
        );
        var strips = visitor.Page.GetByRole(AriaRole.Slider);
        await strips.PressAsync("PageDown");
        await Expect(strips).ToHaveAttributeAsync("aria-valuetext", new System.Text.RegularExpressions.Regex("^Segment 2\\. .*Altitude"));
        await visitor.Page.GetByRole(AriaRole.Toolbar, new() { Name = "Segments" }).GetByRole(AriaRole.Button).Nth(2).ClickAsync();
        await Expect(strips).ToHaveAttributeAsync("aria-valuetext", new System.Text.RegularExpressions.Regex("^Segment 3\\. "));
        await Expect(visitor.Page.Locator(".readout")).ToContainTextAsync("other");
        Assert.Empty(visitor.Faults);
    }

    [Fact]
    public async Task The_other_attempt_is_laid_over_the_strips_and_taken_off_again_at_a_tap()
    {
        await site.ScoredAsync("box-circles", "f01.gpx");
        var attempt = await site.ScoredAsync("box-circles", "f01.gpx");
        await using var visitor = await chromium.OpenDebriefAsync(site, SchoolsFixture.Instructor, attempt);
        var bare = await StripsAsync(visitor);
        var other = visitor.Button("Best other attempt");

        await other.ClickAsync();
        await Expect(other).ToHaveAttributeAsync("aria-pressed", "true");
        await Expect(visitor.Page.Locator(".plots .note")).ToContainTextAsync("Dashed");
        Assert.NotEqual(bare, await StripsAsync(visitor));

        await other.ClickAsync();
        await Expect(other).ToHaveAttributeAsync("aria-pressed", "false");
        Assert.Equal(bare, await StripsAsync(visitor));
        Assert.Empty(visitor.Faults);
    }

    private static Task<string> StripsAsync(Visitor visitor) =>
        visitor.Page.Locator(".plots .strips canvas").First.EvaluateAsync<string>("c => c.toDataURL()");
}
