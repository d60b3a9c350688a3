using Deque.AxeCore.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>The drill that flies itself, by keyboard, as readings and words.</summary>
[Collection<AtTheDemo>]
public sealed class PlayerTests(DemoSite site, Chromium chromium)
{
    [Fact]
    public async Task The_drill_is_flown_by_keyboard_and_reads_what_it_asks_for()
    {
        await using var visitor = await chromium.VisitAsync(site.Address);
        await visitor.SignInAsync(DemoSite.EmailOf("student"), DemoSite.Password);
        await visitor.GoAsync("/drills/box-circles");
        var player = visitor.Page.Locator(".player[data-state=ready]");
        await Expect(player).ToBeVisibleAsync();
        var slider = player.Locator("[data-time]");
        await slider.FocusAsync();
        await visitor.Page.Keyboard.PressAsync("ArrowRight");
        await Expect(player.Locator("[data-part=clock]")).ToHaveTextAsync("0:01");
        await visitor.Page.Keyboard.PressAsync("End");
        await Expect(player.Locator("[data-part=clock]")).ToHaveTextAsync("14:00");
        await visitor.Page.Keyboard.PressAsync("Home");
        await Expect(slider).ToHaveAttributeAsync("aria-valuetext", new System.Text.RegularExpressions.Regex("^0:00, .*heading .*ft"));
        // Primary for pitch, bank and power are named at once.
        await Expect(player.Locator("[data-part=pitch-primary]")).Not.ToBeEmptyAsync();
        await Expect(player.Locator("figure.primary")).Not.ToHaveCountAsync(0);

        await player.Locator("[data-speed]").SelectOptionAsync("16");
        await player.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Play" }).PressAsync("Enter");
        await Expect(player).ToHaveAttributeAsync("data-playing", "true");
        await Expect(player.Locator("[data-part=clock]")).Not.ToHaveTextAsync("0:00");
        await player.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Pause" }).PressAsync("Enter");
        await Expect(player).ToHaveAttributeAsync("data-playing", "false");
        Assert.Empty((await visitor.Page.RunAxe()).Violations.Select(v => v.Id));
        Assert.Empty(visitor.Faults);
    }
}
