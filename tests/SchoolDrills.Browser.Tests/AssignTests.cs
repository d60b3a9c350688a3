using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>Drills assigned as a person does it, with the keyboard alone.</summary>
[Collection<AtTheSchool>]
public sealed class AssignTests(SchoolSite site, Chromium chromium)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Two_drills_go_to_two_students_by_keyboard_and_are_taken_back()
    {
        await site.NewcomerAsync("ana-keys", SchoolDrills.Contracts.Roles.Student);
        await site.NewcomerAsync("ben-keys", SchoolDrills.Contracts.Roles.Student);
        await using var instructor = await chromium.EnterAsync(site, SchoolsFixture.Instructor);
        await instructor.GoAsync("/assign");
        var (page, keys) = (instructor.Page, instructor.Page.Keyboard);

        await page.GetByLabel("Add a student").FocusAsync();
        foreach (var name in (string[])["ana-keys", "ben-keys"])
        {
            await keys.TypeAsync(name, new() { Delay = 60 });
            await Expect(page.Locator(".mud-popover-open .mud-list-item")).ToHaveCountAsync(1);
            await keys.PressAsync("Enter");
            await Expect(page.GetByLabel("Students chosen")).ToContainTextAsync(name);
        }

        // The first is found by its name; the list itself is walked with the arrows.
        await page.GetByLabel("Find a drill").FocusAsync();
        await keys.TypeAsync("racetrack");
        await Expect(page.Locator("[data-drill]")).ToHaveCountAsync(1);
        await keys.PressAsync("Enter");
        await Expect(page.Locator("[data-drill=racetrack]")).ToHaveAttributeAsync("aria-pressed", "true");
        await keys.PressAsync("Control+A");
        await keys.PressAsync("Delete");
        await Expect(page.Locator("[data-drill]")).ToHaveCountAsync(5);
        await keys.PressAsync("ArrowDown");
        await keys.PressAsync("End");
        await keys.PressAsync("Space");
        await Expect(page.Locator("[data-drill][aria-pressed=true]")).ToHaveCountAsync(2);

        var assign = page.Locator(".go").GetByRole(AriaRole.Button);
        await Expect(assign).ToHaveTextAsync("Assign 2 drills to 2 students");
        for (var tabs = 0; tabs < 40 && !await assign.EvaluateAsync<bool>("b => b === document.activeElement"); tabs++)
            await keys.PressAsync("Tab");
        await Expect(assign).ToBeFocusedAsync();
        Assert.Empty(await instructor.FlawsAsync());
        await keys.PressAsync("Enter");

        await Expect(page.Locator(".done")).ToContainTextAsync("assigned to The ana-keys and The ben-keys, due");
        var api = await site.AsAsync(SchoolsFixture.Instructor);
        Assert.Equal(2, (await api.AssignmentsAsync(site.IdOf("ana-keys"), ct: Cancel)).Count);
        await keys.PressAsync("Tab");
        await Expect(instructor.Button("Undo")).ToBeFocusedAsync();
        await keys.PressAsync("Enter");
        await Expect(page.Locator(".done")).ToContainTextAsync("Taken back");
        Assert.Empty(await api.AssignmentsAsync(site.IdOf("ana-keys"), ct: Cancel));
        Assert.Empty(await api.AssignmentsAsync(site.IdOf("ben-keys"), ct: Cancel));
        Assert.Empty(instructor.Faults);
    }
}
