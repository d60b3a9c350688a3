using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>The first hour of an empty school: from the printed link to a school that is ready to work.</summary>
public sealed class FirstHourTests(NewSchoolTests.EmptySite site, Chromium chromium) : IClassFixture<NewSchoolTests.EmptySite>
{
    private const string Password = "attitude plus power";

    private const string List = """
        Name;Email;Role
        "Dent, Stu";stu@firsthour.example;student
        Ann Lee;ann@firsthour.example;
        Ina Structor;ina@firsthour.example;Instructor
        Ben Oh;ben at firsthour.example;student
        Ann again;ANN@firsthour.example;student
        Chia Eff;chief@firsthour.example;chief
        """;

    [Fact]
    public async Task A_chief_is_led_from_the_first_sign_in_to_a_school_that_is_ready_to_work()
    {
        await using var chief = await chromium.VisitAsync(site.Address);
        await SetUpAsync(chief);
        Assert.Equal("/start", chief.Path);

        var school = chief.Page.Locator("#school");
        await school.GetByLabel("Days until a drill is due").FillAsync("10");
        await school.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(StateOf(chief, "school")).ToHaveTextAsync("✓ done");

        await InvitePeopleAsync(chief);
        await Expect(StateOf(chief, "people")).ToHaveTextAsync("✓ done: 3 students");
        await Expect(StateOf(chief, "drills")).ToContainTextAsync("published");

        // Left in the middle and come back to.
        await chief.GoAsync("/");
        await chief.Page.Locator(".start-line").GetByRole(AriaRole.Link, new() { Name = "Next: the first assignment" }).ClickAsync();
        await chief.Page.Locator("#assignment").GetByRole(AriaRole.Link, new() { Name = "Assign a drill to Ann Lee" }).ClickAsync();
        await Expect(chief.Heading("Assign drills")).ToBeVisibleAsync();
        await chief.Button("Assign").ClickAsync();
        await Expect(chief.Page.Locator(".done")).ToContainTextAsync("Ann Lee");

        await chief.GoAsync("/start");
        await chief.Page.Locator("#recording").GetByRole(AriaRole.Link, new() { Name = "Try a recording" }).ClickAsync();
        await chief.Button("Score the sample recording").ClickAsync();
        await Expect(chief.Region("Result")).ToContainTextAsync("in tolerance", new() { Timeout = 60_000 });

        await chief.GoAsync("/start");
        await Expect(chief.Page.Locator("main")).ToContainTextAsync("Ready to work.");
        await chief.Page.Locator(".notice").GetByRole(AriaRole.Link, new() { Name = "desk" }).ClickAsync();
        await Expect(chief.Page.Locator(".tallies")).ToBeVisibleAsync();
        await Expect(chief.Page.Locator(".start-line")).ToHaveCountAsync(0);
        Assert.Empty(chief.Faults);
    }

    private async Task SetUpAsync(Visitor chief)
    {
        await chief.GoAsync(await site.FirstRunPathAsync());
        await chief.Page.GetByLabel("Name of the school").FillAsync("First Hour Flying Club");
        await chief.Page.GetByLabel("Time zone").FillAsync("Europe/Lisbon");
        await chief.Page.GetByLabel("Your name").FillAsync("Chia Eff");
        await chief.Page.GetByLabel("Email").FillAsync("chief@firsthour.example");
        await chief.Page.GetByLabel("Password").FillAsync(Password);
        await chief.Button("Create the school").ClickAsync();
        await Expect(chief.Page.GetByRole(AriaRole.Status)).ToContainTextAsync("Your school is ready.");
        await chief.Page.GetByLabel("Email").FillAsync("chief@firsthour.example");
        await chief.Page.GetByLabel("Password").FillAsync(Password);
        await chief.Button("Sign in").ClickAsync();
        await chief.SettleAsync();
    }

    /// <summary>Pastes a list with three bad rows, corrects one and leaves the others out, and signs in with a link of it.</summary>
    private async Task InvitePeopleAsync(Visitor chief)
    {
        var people = chief.Page.Locator("#people");
        await people.Locator("summary").ClickAsync();
        await people.GetByLabel("People, one per line").FillAsync(List);
        await people.GetByRole(AriaRole.Button, new() { Name = "Check the list" }).ClickAsync();
        await Expect(people.GetByRole(AriaRole.Status)).ToContainTextAsync("6 rows: 3 ready to invite, 3 to correct or leave out.");
        await people.GetByLabel("Email, row 4").FillAsync("ben@firsthour.example");
        await people.GetByLabel("Email, row 4").PressAsync("Tab");
        await people.GetByRole(AriaRole.Button, new() { Name = "Leave out the 2 with a problem" }).ClickAsync();
        await people.GetByRole(AriaRole.Button, new() { Name = "Invite 4 people" }).ClickAsync();
        await Expect(people.GetByRole(AriaRole.Status).First).ToContainTextAsync("4 people invited.");
        var links = await people.GetByLabel("Links to pass on").InputValueAsync();
        var path = new Uri(links.Split('\n').Single(l => l.Contains("ann@", StringComparison.Ordinal)).Split(": ")[1]).PathAndQuery;

        await using var student = await chromium.VisitAsync(site.Address);
        await student.GoAsync(path);
        await Expect(student.Page.Locator("main")).ToContainTextAsync("Ann Lee, choose the password");
    }

    private static ILocator StateOf(Visitor chief, string step) => chief.Page.Locator($"#{step} .mark");
}
