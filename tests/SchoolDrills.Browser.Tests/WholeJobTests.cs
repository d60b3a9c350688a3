using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>
/// What the product is for, from the assignment to the progress, by two people at two screens. At a school of its own: nothing waits
/// for anybody there before.
/// </summary>
public sealed partial class WholeJobTests(SchoolSite site, Chromium chromium) : IClassFixture<SchoolSite>
{
    private const string Drill = "Box with circles",
        Notes = "Say the next cue aloud.";

    private const string Comment = "A steady box. Next time with questions on top.",
        SegmentComment = "Rolled out by the clock.",
        Reply = "Ready for more.";

    private static readonly string Recording = Path.Combine(AppContext.BaseDirectory, "Recordings", "f01.gpx");

    private static readonly DateOnly DueOn = new(2030, 1, 31);

    [Fact]
    public async Task A_drill_is_assigned_flown_debriefed_graded_read_and_counted()
    {
        await using var instructor = await chromium.VisitAsync(site.Address);
        await instructor.SignInAsync(SchoolsFixture.EmailOf(SchoolsFixture.Instructor), SchoolsFixture.Password);
        await AssignAsync(instructor);

        await using var student = await chromium.VisitAsync(site.Address);
        await student.SignInAsync(SchoolsFixture.EmailOf(SchoolsFixture.Student), SchoolsFixture.Password);
        await UploadAsync(student);
        var attempt = student.Path;
        await using (site.StartWorker())
        {
            await ReadDebriefAsync(student);
        }

        await GradeAsync(instructor);
        await AcknowledgeAsync(student, attempt);
        await LookAtProgressAsync(student);

        await instructor.GoAsync(attempt);
        await Expect(instructor.Region("Grade")).ToContainTextAsync($"“{Reply}”");
        Assert.Empty(instructor.Faults);
        Assert.Empty(student.Faults);
    }

    private static async Task AssignAsync(Visitor instructor)
    {
        await Expect(instructor.Page.Locator("main")).ToContainTextAsync("All caught up.");
        await instructor.Page.GetByRole(AriaRole.Navigation).GetByRole(AriaRole.Link, new() { Name = "Assign", Exact = true }).ClickAsync();
        await Expect(instructor.Button("Assign")).ToBeDisabledAsync();
        await instructor.Page.GetByLabel("Add a student").FillAsync("the st");
        await instructor.Page.GetByRole(AriaRole.Option, new() { Name = "The student", Exact = true }).ClickAsync();
        await instructor.Page.Locator("[data-drill=box-circles]").ClickAsync();
        await instructor.Page.GetByLabel("Due on").FillAsync(DueOn.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        await instructor.Page.GetByLabel("Notes for the student").FillAsync(Notes);
        await Expect(instructor.Heading(Drill)).ToBeVisibleAsync();
        await instructor.Button("Assign").ClickAsync();
        await instructor.Link("Open it").ClickAsync();

        await Expect(instructor.Page.GetByRole(AriaRole.Heading, new() { Name = Drill, Level = 1 })).ToBeVisibleAsync();
        await Expect(instructor.Page.Locator("main")).ToContainTextAsync("The student, due 31 Jan 2030; assigned by The instructor today");
        await Expect(instructor.Region("Attempts")).ToContainTextAsync("The student has not uploaded a recording yet.");
    }

    private static async Task UploadAsync(Visitor student)
    {
        var next = student.Region(Drill);
        await Expect(next).ToContainTextAsync("Next drill, due 31 Jan 2030");
        await Expect(next).ToContainTextAsync(Notes);
        await next.GetByRole(AriaRole.Link, new() { Name = "Upload" }).ClickAsync();

        await Expect(student.Region("Attempts")).ToContainTextAsync("Nothing uploaded yet.");
        await student.Page.GetByLabel("Choose a recording").SetInputFilesAsync(Recording);
        var upload = student.Region("Upload recordings");
        await Expect(upload).ToContainTextAsync("f01.gpx");
        await student.Page.GetByRole(AriaRole.Radio, new() { Name = "2 light" }).CheckAsync();
        // Flown in February and assigned by this test today: said at once, and used all the same.
        await Expect(upload).ToContainTextAsync("It was recorded on 12 Feb 2026, before the drill was assigned");
        await student.Button("Use it anyway").ClickAsync();

        // No worker runs yet, so that the wait is there to be seen.
        await Expect(student.Region("Waiting to be scored")).ToContainTextAsync("It is next.");
        await student.Page.ReloadAsync();
        await student.SettleAsync();
        await Expect(student.Heading("Waiting to be scored")).ToBeVisibleAsync();
        // The wait is used: how did it go, in the student's own view?
        await student.Button("The rest was within").ClickAsync();
        await student.Button("Save my rating").ClickAsync();
        await Expect(student.Heading("How did it go?")).ToHaveCountAsync(0);
    }

    private static async Task ReadDebriefAsync(Visitor student)
    {
        // The flight's own record: an excellent pilot, within all tolerances from start to end, sixteen segments on four sides,
        // from 21:04:33 UTC on 11 February 2026, which is the morning of the 12th at the school.
        await Expect(student.Page.Locator(".verdict-line")).ToHaveTextAsync(Verdict());
        await Expect(student.Page.Locator("main .head")).ToContainTextAsync("12 Feb");
        await Expect(student.Page.Locator("main .head")).ToContainTextAsync("10:04");

        var ribbon = student.Page.GetByRole(AriaRole.Toolbar, new() { Name = "Segments" }).GetByRole(AriaRole.Button);
        await Expect(ribbon).ToHaveCountAsync(16);
        await Expect(student.Page.Locator(".plots[data-state=ready]")).ToBeVisibleAsync();
        await Expect(student.Page.Locator(".plots .strips canvas").First).ToBeVisibleAsync();
        await Expect(student.Page.Locator(".plots .plan canvas").First).ToBeVisibleAsync();
        await Expect(student.Region("Segment by segment").GetByRole(AriaRole.Row)).Not.ToHaveCountAsync(0);
        await ribbon.Nth(1).ClickAsync();
        await Expect(ribbon.Nth(1)).ToHaveAttributeAsync("aria-pressed", "true");
        await Expect(student.Region("Grade")).ToContainTextAsync("Your instructor has not graded this attempt yet.");
    }

    private static async Task GradeAsync(Visitor instructor)
    {
        await instructor.GoAsync("/");
        await Expect(instructor.Page.GetByRole(AriaRole.Region, new() { NameRegex = ToGrade() }))
            .ToContainTextAsync($"The student: {Drill}");
        await instructor.Link($"The student: {Drill}").ClickAsync();

        var grade = instructor.Region("Grade");
        await Expect(instructor.Button("Sign")).ToBeDisabledAsync();
        await grade.GetByRole(AriaRole.Radio, new() { Name = "The whole: To standard" }).CheckAsync(new() { Force = true });
        await grade.GetByRole(AriaRole.Radio, new() { NameRegex = SecondSegment() }).CheckAsync(new() { Force = true });
        await grade.GetByLabel("Comment on 2. ").FillAsync(SegmentComment);
        await grade.GetByLabel("Comment to the student").FillAsync(Comment);
        await grade.GetByLabel("Comment to the student").BlurAsync();
        await Expect(grade.GetByRole(AriaRole.Status).Last).ToContainTextAsync("Draft saved");

        await instructor.Button("Sign").ClickAsync();
        var question = instructor.Page.GetByRole(AriaRole.Dialog);
        await Expect(question).ToContainTextAsync($"“To standard” for The student, {Drill}. 15 segments carry no grade of their own.");
        await question.GetByRole(AriaRole.Button, new() { Name = "Sign", Exact = true }).ClickAsync();
        await Expect(grade).ToContainTextAsync("Signed by The instructor, today");
        await Expect(grade).ToContainTextAsync("The student has not acknowledged it yet.");
    }

    private static async Task AcknowledgeAsync(Visitor student, string attempt)
    {
        await student.GoAsync(attempt);
        var grade = student.Region("Grade");
        await Expect(grade).ToContainTextAsync("To standard");
        await Expect(grade).ToContainTextAsync(Comment);
        var segment = grade.GetByRole(AriaRole.Row).Filter(new() { HasText = SegmentComment });
        await Expect(segment).ToContainTextAsync("Above standard");
        await grade.GetByLabel("Reply (optional)").FillAsync(Reply);
        await student.Button("I have read this grade").ClickAsync();
        await Expect(grade).ToContainTextAsync("Read by The student, today");
        await Expect(student.Button("I have read this grade")).ToHaveCountAsync(0);
    }

    private static async Task LookAtProgressAsync(Visitor student)
    {
        await student.Link("Progress").ClickAsync();
        await Expect(student.Heading("My progress")).ToBeVisibleAsync();
        await Expect(student.Region("Attempts").GetByRole(AriaRole.Listitem).Filter(new() { HasText = Drill }))
            .ToContainTextAsync(new Regex("graded .+, read"));
        await Expect(student.Heading("Altitude")).ToBeVisibleAsync();
        await Expect(student.Region("Where you stand")).ToContainTextAsync("Too little data to say where you stand: 1 attempt of ");
        await Expect(student.Region("By parameter")).ToContainTextAsync("Too little data: 1 of 3 attempts.");
    }

    [GeneratedRegex(
        @"^\s*met\s+Within the standard: all in tolerance for (9\d|100)% of the drill, 1[456] met(, \d (close|not met))*\.\s*$"
    )]
    private static partial Regex Verdict();

    [GeneratedRegex("^To grade")]
    private static partial Regex ToGrade();

    [GeneratedRegex(@"^2\. .+: Above standard")]
    private static partial Regex SecondSegment();
}
