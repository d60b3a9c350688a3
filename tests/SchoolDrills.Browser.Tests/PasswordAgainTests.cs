using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>A page left open asks for the password before it does what outlives the session.</summary>
[Collection<AtTheSchool>]
public sealed class PasswordAgainTests(SchoolSite site, Chromium chromium)
{
    [Fact]
    public async Task A_page_left_open_asks_for_the_password_and_goes_on_with_what_was_asked()
    {
        await using var chief = await chromium.EnterAsync(site, SchoolsFixture.Chief);
        await chief.GoAsync("/people");
        await site.AgePasswordAsync(SchoolsFixture.Chief);
        var form = chief.Region("Invite");
        await form.GetByLabel("Name").FillAsync("Asked Again");
        await form.GetByLabel("Email").FillAsync("asked.again@tussockplains.example");
        await form.GetByRole(AriaRole.Checkbox, new() { Name = "Student", Exact = true }).CheckAsync();
        var invite = form.GetByRole(AriaRole.Button, new() { Name = "Invite", Exact = true });

        await invite.ClickAsync();
        var dialog = chief.Page.GetByRole(AriaRole.Dialog);
        await Expect(dialog.GetByLabel("Password")).ToBeVisibleAsync();
        Assert.Empty(await chief.FlawsAsync());
        await dialog.GetByRole(AriaRole.Button, new() { Name = "Cancel" }).ClickAsync();
        await Expect(form.GetByRole(AriaRole.Alert)).ToContainTextAsync("Please confirm your password");

        await invite.ClickAsync();
        await dialog.GetByLabel("Password").FillAsync("a guess at it");
        await dialog.GetByRole(AriaRole.Button, new() { Name = "Continue" }).ClickAsync();
        await Expect(dialog.GetByRole(AriaRole.Alert)).ToContainTextAsync("This is not your present password.");
        await dialog.GetByLabel("Password").FillAsync(SchoolsFixture.Password);
        await dialog.GetByRole(AriaRole.Button, new() { Name = "Continue" }).ClickAsync();
        await Expect(form.GetByRole(AriaRole.Status)).ToContainTextAsync("Asked Again");
        await Expect(dialog).ToHaveCountAsync(0);
        Assert.Empty(chief.Faults);
    }

    [Fact]
    public async Task An_export_asks_too_and_comes_as_the_file()
    {
        await using var chief = await chromium.EnterAsync(site, SchoolsFixture.Chief);
        await chief.GoAsync("/records");
        await site.AgePasswordAsync(SchoolsFixture.Chief);
        await chief.Link("Export all data").ClickAsync();
        var dialog = chief.Page.GetByRole(AriaRole.Dialog);
        await dialog.GetByLabel("Password").FillAsync(SchoolsFixture.Password);
        var file = await chief.Page.RunAndWaitForDownloadAsync(() =>
            dialog.GetByRole(AriaRole.Button, new() { Name = "Continue" }).ClickAsync()
        );
        Assert.Equal("school.zip", file.SuggestedFilename);
        // The page is still there to work with.
        await chief.Link("Export all data").HoverAsync();
        await Expect(chief.Heading("Records and retention")).ToBeVisibleAsync();
        Assert.Empty(chief.Faults);
    }
}
