using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>Getting about: the bar at every width, the menu, the search, all by keyboard.</summary>
[Collection<AtTheDemo>]
public sealed class NavigationTests(DemoSite site, Chromium chromium)
{
    [Theory]
    [InlineData("chief", 360)]
    [InlineData("chief", 600)]
    [InlineData("chief", 768)]
    [InlineData("chief", 1248)]
    [InlineData("instructor", 928)]
    [InlineData("student", 600)]
    public async Task The_bar_is_one_row_and_every_place_is_in_its_menu(string person, int widthPx)
    {
        await using var visitor = await chromium.VisitAsync(site.Address, new Screen(widthPx, 740, ColorScheme.Light));
        await visitor.SignInAsync(DemoSite.EmailOf(person), DemoSite.Password);
        var bar = await visitor.Page.Locator("header.bar").BoundingBoxAsync();
        Assert.InRange(bar!.Height, 30, 60);
        await Expect(visitor.Button("Search")).ToBeVisibleAsync();
        // Nothing in the bar lies over its neighbor.
        var overlaps = await visitor.Page.EvaluateAsync<string[]>(
            """
            () => {
              const all = [...document.querySelectorAll('header.bar :is(a, button)')]
                .filter(e => !e.closest('[popover], dialog') && e.getClientRects().length > 0)
                .map(e => ({ name: e.textContent.trim() || e.getAttribute('aria-label'), box: e.getBoundingClientRect() }));
              return all.slice(1).filter((e, i) => e.box.left < all[i].box.right - 1).map(e => e.name);
            }
            """
        );
        Assert.Empty(overlaps);

        await visitor.Button("Menu").FocusAsync();
        await visitor.Page.Keyboard.PressAsync("Enter");
        var menu = visitor.Page.Locator("#main-menu");
        await Expect(menu.GetByRole(AriaRole.Link, new() { Name = "My account" })).ToBeVisibleAsync();
        await visitor.Page.Keyboard.PressAsync("Escape");
        await Expect(menu).ToBeHiddenAsync();
        await Expect(visitor.Button("Menu")).ToBeFocusedAsync();

        await visitor.Page.Keyboard.PressAsync("Enter");
        await menu.GetByRole(AriaRole.Link, new() { Name = "My account" }).FocusAsync();
        await visitor.Page.Keyboard.PressAsync("Enter");
        await Expect(visitor.Page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex("/account$"));
        await Expect(menu).ToBeHiddenAsync();
    }

    /// <summary>WCAG 2.2, 2.4.7: the component library takes the ring from links, and the school's styles give it back.</summary>
    [Fact]
    public async Task A_link_that_has_the_focus_shows_a_ring()
    {
        await using var visitor = await chromium.VisitAsync(site.Address);
        await visitor.SignInAsync(DemoSite.EmailOf("student"), DemoSite.Password);
        await Expect(visitor.Link("Brief me")).ToBeVisibleAsync();
        for (var link = 0; link < 3; )
        {
            await visitor.Page.Keyboard.PressAsync("Tab");
            var ring = await visitor.Page.EvaluateAsync<string?>(
                "() => document.activeElement.matches('a') ? getComputedStyle(document.activeElement).outlineStyle : null"
            );
            if (ring is null)
                continue;
            Assert.Equal("solid", ring);
            link++;
        }
    }

    [Fact]
    public async Task The_search_is_opened_gone_through_and_left_by_keyboard()
    {
        await using var visitor = await chromium.VisitAsync(site.Address);
        await visitor.SignInAsync(DemoSite.EmailOf("instructor"), DemoSite.Password);
        await visitor.Page.Keyboard.PressAsync("Control+k");
        var field = visitor.Page.GetByRole(AriaRole.Combobox, new() { Name = "Find a student, drill or flight" });
        await Expect(field).ToBeFocusedAsync();
        await visitor.Page.Keyboard.TypeAsync("aroha");
        var options = visitor.Page.Locator("#search").GetByRole(AriaRole.Option);
        await Expect(options.First).ToHaveTextAsync("Aroha Tamihana");
        await Expect(options.First).ToHaveAttributeAsync("aria-selected", "true");
        await Expect(field).ToHaveAttributeAsync("aria-expanded", "true");
        await visitor.Page.Keyboard.PressAsync("ArrowDown");
        await Expect(options.Nth(1)).ToHaveAttributeAsync("aria-selected", "true");
        await Expect(field).ToHaveAttributeAsync("aria-activedescendant", (await options.Nth(1).GetAttributeAsync("id"))!);
        await visitor.Page.Keyboard.PressAsync("ArrowUp");
        await visitor.Page.Keyboard.PressAsync("Enter");
        await Expect(visitor.Heading("Aroha Tamihana")).ToBeVisibleAsync();
        await Expect(field).ToBeHiddenAsync();

        await visitor.Button("Search").ClickAsync();
        await field.FillAsync("no such thing anywhere");
        await Expect(visitor.Page.Locator("#search [role=status]")).ToContainTextAsync("Nothing found. Searched: names of students");
        await Expect(options).ToHaveCountAsync(0);
        await visitor.Page.Keyboard.PressAsync("Escape");
        await Expect(field).ToBeHiddenAsync();
        await Expect(visitor.Button("Search")).ToBeFocusedAsync();
        Assert.Empty(visitor.Faults);
    }
}
