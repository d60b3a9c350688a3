using System.Text.RegularExpressions;
using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

[Collection<AtGrading>]
public sealed partial class GradingTests(SchoolSite site, Chromium chromium)
{
    [Fact]
    public async Task Sixteen_segments_are_graded_and_signed_with_the_keyboard_alone()
    {
        var attemptId = await site.ScoredAsync("box-circles", "f01.gpx");
        await using var instructor = await chromium.EnterAsync(site, SchoolsFixture.Instructor);
        await instructor.GoAsync($"/attempts/{attemptId}");
        var keys = instructor.Page.Keyboard;
        await keys.PressAsync("g");
        for (var segment = 0; segment < 16; segment++)
        {
            await keys.PressAsync(segment == 4 ? "2" : "3");
            if (segment == 4)
            {
                await keys.PressAsync("c");
                await keys.TypeAsync("Side two. /2");
                await keys.PressAsync("Enter");
            }

            await keys.PressAsync("ArrowDown");
        }

        // Below the last segment stands the drill as a whole.
        await keys.PressAsync("3");
        await keys.PressAsync("/");
        await keys.PressAsync("8");
        await keys.PressAsync("Escape");
        var grade = instructor.Region("Grade");
        await Expect(grade.GetByLabel("Comment on 5. ")).ToHaveValueAsync("Side two. Lead the roll-out by half the bank.");
        await Expect(grade.GetByRole(AriaRole.Status).Filter(new() { HasTextRegex = Saved() })).ToBeVisibleAsync();
        await keys.PressAsync("s");
        await Expect(instructor.Page.GetByRole(AriaRole.Dialog)).ToContainTextAsync("“To standard” for The student");
        await Expect(instructor.Page.GetByRole(AriaRole.Dialog)).Not.ToContainTextAsync("no grade of their own");
        await instructor.Page.GetByRole(AriaRole.Dialog).GetByRole(AriaRole.Button, new() { Name = "Sign", Exact = true }).FocusAsync();
        await keys.PressAsync("Enter");

        await Expect(grade).ToContainTextAsync("Signed by The instructor, today");
        await Expect(grade.GetByRole(AriaRole.Row)).ToHaveCountAsync(17);
        await Expect(grade.GetByRole(AriaRole.Row).Nth(5)).ToContainTextAsync("With help");
        await Expect(grade).ToContainTextAsync("Smooth and ahead of the aeroplane.");
        Assert.Empty(instructor.Faults);
    }

    [Fact]
    public async Task Two_instructors_at_once_see_each_other_and_lose_nothing()
    {
        var attemptId = await site.ScoredAsync("timed-turns", "f13.csv");
        await using var first = await chromium.EnterAsync(site, SchoolsFixture.Instructor);
        await using var second = await chromium.EnterAsync(site, SchoolsFixture.SecondInstructor);
        await first.GoAsync($"/attempts/{attemptId}");
        await second.GoAsync($"/attempts/{attemptId}");

        await first.Region("Grade").GetByLabel("Comment on 1. ").FillAsync("Smooth entry.");
        await Expect(first.Region("Grade")).ToContainTextAsync("Draft saved");
        // Without having touched anything, the second is told who writes.
        await Expect(second.Region("Grade")).ToContainTextAsync("The instructor is writing this grade too");
        await Expect(second.Region("Grade").GetByLabel("Comment on 1. ")).ToHaveValueAsync("Smooth entry.");

        await second.Region("Grade").GetByLabel("Comment on 2. ").FillAsync("Late roll-out.");
        await first.Region("Grade").GetByLabel("Comment to the student").FillAsync("A good day.");
        foreach (var visitor in (Visitor[])[first, second])
        {
            await Expect(visitor.Region("Grade").GetByLabel("Comment on 2. ")).ToHaveValueAsync("Late roll-out.");
            await Expect(visitor.Region("Grade").GetByLabel("Comment to the student")).ToHaveValueAsync("A good day.");
        }
    }

    [Fact]
    public async Task A_connection_lost_in_mid_grade_loses_no_word()
    {
        var attemptId = await site.ScoredAsync("timed-turns", "f13.gpx");
        await using var instructor = await chromium.EnterAsync(site, SchoolsFixture.Instructor);
        var lines = new List<IWebSocketRoute>();
        var isDown = false;
        await instructor.Page.RouteWebSocketAsync(
            CircuitLine(),
            line =>
            {
                if (isDown)
                {
                    _ = line.CloseAsync();
                    return;
                }

                lines.Add(line);
                line.ConnectToServer();
            }
        );
        // Without its line a circuit falls back to plain requests.
        await instructor.Page.RouteAsync(CircuitLine(), request => isDown ? request.AbortAsync() : request.ContinueAsync());
        await instructor.GoAsync($"/attempts/{attemptId}");
        var grade = instructor.Region("Grade");
        await grade.GetByLabel("Comment on 1. ").FillAsync("Kept by the server.");
        await Expect(grade).ToContainTextAsync("Draft saved");

        isDown = true;
        foreach (var line in lines)
            await line.CloseAsync();
        await grade.GetByLabel("Comment on 2. ").FillAsync("Kept by the browser.");
        await grade.GetByRole(AriaRole.Radio, new() { NameRegex = FirstStandard() }).CheckAsync(new() { Force = true });
        isDown = false;
        await instructor.Page.ReloadAsync();
        await instructor.SettleAsync();
        await Expect(grade.GetByLabel("Comment on 1. ")).ToHaveValueAsync("Kept by the server.");
        await Expect(grade.GetByLabel("Comment on 2. ")).ToHaveValueAsync("Kept by the browser.");
        await Expect(grade.GetByRole(AriaRole.Radio, new() { NameRegex = FirstStandard() })).ToBeCheckedAsync();
        // And from here on the server has it as well.
        await Expect(grade).ToContainTextAsync("Draft saved");
        var draft = await (await site.AsAsync(SchoolsFixture.Instructor)).GradeAsync(attemptId, TestContext.Current.CancellationToken);
        Assert.Equal(["Kept by the server.", "Kept by the browser."], draft.Grade!.Segments.Select(s => s.Comment));
    }

    [Theory]
    [InlineData("desk")]
    [InlineData("phone at night")]
    public async Task The_grading_page_of_the_school_is_set_by_the_chief_and_shuts_nobody_out(string screen)
    {
        await using var chief = await chromium.EnterAsync(site, SchoolsFixture.Chief, screen == "desk" ? Screen.Desk : Screen.PhoneAtNight);
        await chief.GoAsync("/school/grading");
        Assert.Empty(await chief.FlawsAsync());
        var phrase = $"On {screen}: scan first.";
        await chief.Page.GetByLabel("Phrase 9").FillAsync(phrase);
        await chief.Button("Save").ClickAsync();
        await Expect(chief.Page.GetByText("Saved.", new() { Exact = true })).ToBeVisibleAsync();
        await Expect(chief.Page.GetByLabel("Phrase 9")).ToHaveValueAsync(phrase);
        var kept = await (await site.AsAsync(SchoolsFixture.Chief)).SettingsAsync(TestContext.Current.CancellationToken);
        Assert.Equal(phrase, kept.Grading.QuickPhrases[8]);
    }

    [GeneratedRegex("^Draft saved")]
    private static partial Regex Saved();

    [GeneratedRegex("/_blazor")]
    private static partial Regex CircuitLine();

    [GeneratedRegex(@"^1\. .+: To standard")]
    private static partial Regex FirstStandard();
}
