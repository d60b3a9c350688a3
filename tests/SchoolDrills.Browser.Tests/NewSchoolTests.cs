using System.Diagnostics;
using System.Text.RegularExpressions;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using SchoolDrills.Api;
using SchoolDrills.Api.Setup;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>From an empty database to the first assignment, through pages alone.</summary>
public sealed partial class NewSchoolTests(NewSchoolTests.EmptySite site, Chromium chromium) : IClassFixture<NewSchoolTests.EmptySite>
{
    private const string Password = "attitude plus power";

    private static readonly TimeSpan FiveMinutes = TimeSpan.FromMinutes(5);

    [Fact]
    public async Task A_new_school_is_set_up_and_its_first_drill_assigned_within_five_minutes()
    {
        var clock = Stopwatch.StartNew();
        await using var chief = await chromium.VisitAsync(site.Address);
        await FirstRunAsync(chief, await site.FirstRunPathAsync());
        await SignInAsync(chief, "chief@newfield.example");

        await chief.Link("People").ClickAsync();
        var instructorLink = await InviteAsync(chief, "Ina Structor", "ina@newfield.example", "Instructor");
        var studentLink = await InviteAsync(chief, "Stu Dent", "stu@newfield.example", "Student");
        await Expect(chief.Page.Locator("tbody tr", new() { HasText = "Stu Dent" })).ToContainTextAsync("invited, not yet signed in");

        await using var student = await chromium.VisitAsync(site.Address);
        await AcceptAsync(student, studentLink, "Stu Dent");
        await SignInAsync(student, "stu@newfield.example");
        await Expect(student.Heading("My work")).ToBeVisibleAsync();

        await using var instructor = await chromium.VisitAsync(site.Address);
        await AcceptAsync(instructor, instructorLink, "Ina Structor");
        await SignInAsync(instructor, "ina@newfield.example");
        await instructor.Page.GetByRole(AriaRole.Navigation).GetByRole(AriaRole.Link, new() { Name = "Assign", Exact = true }).ClickAsync();
        await instructor.Page.GetByLabel("Add a student").FillAsync("stu");
        await instructor.Page.GetByRole(AriaRole.Option, new() { Name = "Stu Dent", Exact = true }).ClickAsync();
        await instructor.Page.Locator("[data-drill=box-circles]").ClickAsync();
        await instructor.Button("Assign").ClickAsync();
        await Expect(instructor.Page.Locator(".done")).ToContainTextAsync("Stu Dent");

        await student.GoAsync("/");
        await Expect(student.Region("Box with circles")).ToContainTextAsync("Next drill");
        Assert.True(clock.Elapsed < FiveMinutes, $"It took {clock.Elapsed}.");
        Assert.Empty(chief.Faults.Concat(student.Faults).Concat(instructor.Faults));

        await UsedLinkAsync(studentLink);
        await ClosedAsync(chief, instructor);
    }

    private static async Task FirstRunAsync(Visitor chief, string path)
    {
        await chief.GoAsync(path);
        await chief.Page.GetByLabel("Name of the school").FillAsync("Newfield <script>document.title='run'</script> Flying Club");
        await chief.Page.GetByLabel("Time zone").FillAsync("Europe/Lisbon");
        await chief.Page.GetByLabel("Your name").FillAsync("Chia Eff");
        await chief.Page.GetByLabel("Email").FillAsync("chief@newfield.example");
        await chief.Page.GetByLabel("Password").FillAsync(Password);
        await chief.Button("Create the school").ClickAsync();
        await Expect(chief.Page.GetByRole(AriaRole.Status)).ToContainTextAsync("Your school is ready.");
    }

    private static async Task SignInAsync(Visitor visitor, string email)
    {
        await visitor.Page.GetByLabel("Email").FillAsync(email);
        await visitor.Page.GetByLabel("Password").FillAsync(Password);
        await visitor.Button("Sign in").ClickAsync();
        await visitor.SettleAsync();
        // A name with a script in it is a name.
        await visitor.Page.Locator(".account button").ClickAsync();
        await Expect(visitor.Page.Locator("p.whose")).ToContainTextAsync("<script>");
        await visitor.Page.Keyboard.PressAsync("Escape");
        Assert.NotEqual("run", await visitor.Page.TitleAsync());
    }

    /// <summary>Fills in the form and copies the link as the chief would.</summary>
    private static async Task<string> InviteAsync(Visitor chief, string name, string email, string role)
    {
        var form = chief.Region("Invite");
        await form.GetByLabel("Name").FillAsync(name);
        await form.GetByLabel("Email").FillAsync(email);
        foreach (var word in (string[])["Student", "Instructor", "Chief instructor"])
            await form.GetByRole(AriaRole.Checkbox, new() { Name = word, Exact = true }).SetCheckedAsync(word == role);
        await form.GetByRole(AriaRole.Button, new() { Name = "Invite", Exact = true }).ClickAsync();
        await Expect(form.GetByRole(AriaRole.Status)).ToContainTextAsync(name);
        await form.GetByRole(AriaRole.Button, new() { Name = "Copy" }).ClickAsync();
        return await form.GetByLabel("Link to pass on").InputValueAsync();
    }

    private static async Task AcceptAsync(Visitor visitor, string link, string name)
    {
        await visitor.GoAsync(new Uri(link).PathAndQuery);
        await Expect(visitor.Page.Locator("main")).ToContainTextAsync($"{name}, choose the password");
        await visitor.Page.GetByLabel("Password").FillAsync(Password);
        await visitor.Button("Save password").ClickAsync();
        await Expect(visitor.Page.GetByRole(AriaRole.Status)).ToContainTextAsync("Your password is saved.");
    }

    private async Task UsedLinkAsync(string link)
    {
        await using var somebody = await chromium.VisitAsync(site.Address);
        await somebody.GoAsync(new Uri(link).PathAndQuery);
        await Expect(somebody.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("This link has been used");
    }

    /// <summary>The instructor has a page open while the chief closes the account: the page can do nothing more.</summary>
    private static async Task ClosedAsync(Visitor chief, Visitor instructor)
    {
        await instructor.GoAsync("/assign");
        await chief.GoAsync("/people");
        await chief.Link("Account of Ina Structor").ClickAsync();
        await chief.Button("Close the account").ClickAsync();
        await chief
            .Page.GetByRole(AriaRole.Dialog)
            .GetByRole(AriaRole.Button, new() { Name = "Close the account", Exact = true })
            .ClickAsync();
        await Expect(chief.Page.Locator(".head .tag")).ToHaveTextAsync("closed");
        await instructor.Page.Locator("[data-drill=racetrack]").ClickAsync();
        await Expect(instructor.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("Your session has ended");
        await instructor.Page.GotoAsync("/");
        await instructor.Page.WaitForURLAsync(SignInAddress());
    }

    [GeneratedRegex("/sign-in")]
    private static partial Regex SignInAddress();

    /// <summary>A site without a school.</summary>
    public sealed class EmptySite : ApiFixture
    {
        public EmptySite() => UseKestrel(0);

        public Uri Address => ClientOptions.BaseAddress;

        /// <summary>The path of a link as the first start prints it; what was printed then is another's to read.</summary>
        public async Task<string> FirstRunPathAsync()
        {
            await using var scope = Services.CreateAsyncScope();
            var db = scope.ServiceProvider.GetRequiredService<AccountsDbContext>();
            var path = FirstRunToken.AddTo(db, DateTimeOffset.UtcNow);
            await db.SaveChangesAsync(TestContext.Current.CancellationToken);
            return path;
        }
    }
}
