using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>The lists of people, and the account's own menu.</summary>
[Collection<AtTheDemo>]
public sealed partial class PeopleTests(DemoSite site, Chromium chromium)
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
    public async Task Notes_on_a_student_are_written_changed_and_deleted_and_the_student_has_no_sight_of_them()
    {
        var student = (await (await site.AsAsync("student")).MeAsync(TestContext.Current.CancellationToken)).Id;
        await using var instructor = await SignInAsync("instructor");
        await instructor.GoAsync($"/students/{student}");
        await instructor.Page.GetByLabel("New note").FillAsync("Rushes the entry.");
        await instructor.Button("Add note").ClickAsync();
        var note = instructor.Page.Locator("li.note", new() { HasText = "Rushes the entry." });
        await Expect(note).ToContainTextAsync("today, you");
        await Expect(instructor.Page.GetByLabel("New note")).ToHaveValueAsync("");
        await instructor.Button("Edit the note of today").ClickAsync();
        var field = instructor.Page.GetByRole(AriaRole.Textbox, new() { Name = "Note of today" });
        await Expect(field).ToBeFocusedAsync();
        await field.FillAsync("Rushes it less.");
        await instructor.Button("Save").ClickAsync();
        await Expect(instructor.Page.Locator("li.note")).ToContainTextAsync("Rushes it less.");

        await using var flies = await SignInAsync("student");
        await flies.GoAsync($"/students/{student}");
        await Expect(flies.Page.Locator("main")).Not.ToContainTextAsync("Rushes it less.");

        await instructor.Button("Delete the note of today").ClickAsync();
        await Expect(instructor.Button("Delete")).ToBeFocusedAsync();
        await instructor.Button("Delete").ClickAsync();
        await Expect(instructor.Page.Locator("li.note")).ToHaveCountAsync(0);
        Assert.Empty(instructor.Faults);
    }

    [Fact]
    public async Task The_students_are_ordered_by_a_heading_and_the_desk_keeps_whose_in_its_address()
    {
        await using var instructor = await SignInAsync("instructor");
        await instructor.GoAsync("/students?mine=false");
        var heading = instructor.Page.GetByRole(AriaRole.Columnheader, new() { NameRegex = StudentHeading() });
        await heading.GetByRole(AriaRole.Button).ClickAsync();
        await Expect(heading).ToHaveAttributeAsync("aria-sort", "ascending");
        await Expect(instructor.Page.Locator("tbody tr").First).ToContainTextAsync("Aroha Tamihana");
        await heading.GetByRole(AriaRole.Button).ClickAsync();
        await Expect(heading).ToHaveAttributeAsync("aria-sort", "descending");
        await Expect(instructor.Page.Locator("tbody tr").Last).ToContainTextAsync("Aroha Tamihana");

        await instructor.GoAsync("/");
        var whose = instructor.Page.GetByRole(AriaRole.Navigation, new() { Name = "Whose work is shown" });
        await Expect(whose.GetByText("Mine")).ToHaveAttributeAsync("aria-current", "true");
        await whose.GetByText("All").ClickAsync();
        await Expect(whose.GetByText("All")).ToHaveAttributeAsync("aria-current", "true");
        Assert.EndsWith("/?whose=all", instructor.Page.Url, StringComparison.Ordinal);
        Assert.Empty(instructor.Faults);
    }

    [GeneratedRegex("^Student")]
    private static partial Regex StudentHeading();

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
