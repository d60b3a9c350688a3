using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>The lists of people, and the account's own menu.</summary>
[Collection<AtTheDemo>]
public sealed class PeopleTests(DemoSite site, Chromium chromium)
{
    [Fact]
    public async Task A_person_is_found_by_part_of_a_name_and_the_list_is_sorted_by_a_column()
    {
        await using var chief = await SignInAsync("chief");
        await chief.GoAsync("/people");
        await chief.Page.GetByLabel("Find", new() { Exact = true }).FillAsync("instructor@");
        await Expect(chief.Page.Locator("tbody tr")).ToHaveCountAsync(1);
        await Expect(chief.Page.Locator("tbody")).ToContainTextAsync("Tom Kereama");
        await chief.Page.GetByLabel("Find", new() { Exact = true }).FillAsync("zzz");
        await Expect(chief.Page.Locator("main")).ToContainTextAsync("Nobody matches “zzz”.");
        await chief.Page.GetByLabel("Find", new() { Exact = true }).FillAsync("");
        var first = chief.Page.Locator("tbody tr").First;
        await Expect(first).ToContainTextAsync("Aroha Tamihana");
        await chief.Page.GetByRole(AriaRole.Columnheader).GetByText("Name", new() { Exact = true }).ClickAsync();
        await Expect(first).ToContainTextAsync("Wiremu Hakaraia");
        Assert.Empty(chief.Faults);
    }

    [Fact]
    public async Task A_hold_is_set_with_its_reason_and_lifted()
    {
        await using var chief = await SignInAsync("chief");
        await chief.GoAsync("/records");
        await chief.Button("Set a hold on Ruby Te Ariki").ClickAsync();
        var dialog = chief.Page.GetByRole(AriaRole.Dialog);
        await dialog.GetByLabel("Reason for the hold").FillAsync("asked for by the authority");
        await dialog.GetByRole(AriaRole.Button, new() { Name = "Set the hold" }).ClickAsync();
        await Expect(chief.Page.Locator("tbody tr", new() { HasText = "Ruby Te Ariki" })).ToContainTextAsync("asked for by the authority");
        await Expect(dialog).ToHaveCountAsync(0);
        await chief.Button("Lift the hold on Ruby Te Ariki").ClickAsync();
        await Expect(chief.Button("Set a hold on Ruby Te Ariki")).ToBeVisibleAsync();
        Assert.Empty(chief.Faults);
    }

    [Fact]
    public async Task The_menu_of_the_account_opens_from_the_keyboard_and_signs_out()
    {
        await using var student = await SignInAsync("student");
        await student.Button("Account of Aroha Tamihana").FocusAsync();
        await student.Page.Keyboard.PressAsync("Enter");
        await student.Page.GetByRole(AriaRole.Menuitem, new() { Name = "Sign out" }).ClickAsync();
        await student.Page.WaitForURLAsync("**/sign-in*");
        Assert.Empty(student.Faults);
    }

    private async Task<Visitor> SignInAsync(string person)
    {
        var visitor = await chromium.VisitAsync(site.Address);
        await visitor.SignInAsync(DemoSite.EmailOf(person), DemoSite.Password);
        return visitor;
    }
}
