using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Students;

namespace SchoolDrills.Web.Tests.Students;

public sealed class StudentsPageTests : PageTest
{
    private static readonly StudentStanding Student = new(
        SampleSchool.StudentId,
        "Rewi Marsh",
        StudentNeed.Overdue,
        Open: 2,
        Overdue: 2,
        DueOn: new DateOnly(2026, 2, 28),
        ToGrade: 1,
        WaitingSinceUtc: SampleSchool.Now.AddDays(-1),
        Going: "Box: 5 attempts without a clear gain",
        LastFlownAtUtc: SampleSchool.Now.AddDays(-1),
        SampleSchool.Attempt(),
        new WeakSpot(SegmentKind.ClimbTurn, Parameter.Altitude, 0.6, 6, new SegmentExample(SampleSchool.AttemptId, 1)),
        new NextStep(new NextDrillSuggestion("two-turns", "Hard enough to learn from.", "Two climbing turns", 0.78))
    );

    [Fact]
    public void A_row_says_every_reason_what_keeps_failing_and_what_comes_next()
    {
        var page = Open<StudentsPage>(Api(Student), Roles.Instructor);
        Assert.Equal(
            ["2 drills not flown, the oldest 3 days overdue", "1 flight to grade, since yesterday", "Box: 5 attempts without a clear gain"],
            page.FindAll(".why li").Select(li => li.TextContent)
        );
        Assert.Contains("about 60% not met over 6 attempts", page.Markup, StringComparison.Ordinal);
        Assert.Contains("1 student: 1 overdue.", page.Find("p[role=status]").TextContent, StringComparison.Ordinal);
        Assert.Contains("Two climbing turns", page.Find("summary").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_column_heading_orders_and_the_same_again_turns_the_order_round()
    {
        var api = Api(Student);
        var page = Open<StudentsPage>(api, Roles.Instructor);
        Assert.All(page.FindAll("th[aria-sort]"), th => Assert.Equal("none", th.GetAttribute("aria-sort")));
        Button(page, "Overdue", "thead").Click();
        page.WaitForAssertion(() => Assert.Equal("descending", page.Find("th[aria-sort]:nth-child(4)").GetAttribute("aria-sort")));
        Assert.Contains("sort=overdue&mine=true&descending=true", api.Asked[^1], StringComparison.Ordinal);
        Button(page, "Overdue", "thead").Click();
        page.WaitForAssertion(() => Assert.Equal("ascending", page.Find("th[aria-sort]:nth-child(4)").GetAttribute("aria-sort")));
        Button(page, "Student", "thead").Click();
        page.WaitForAssertion(() => Assert.Equal("ascending", page.Find("th[aria-sort]").GetAttribute("aria-sort")));
        Assert.Equal("none", page.Find("th[aria-sort]:nth-child(4)").GetAttribute("aria-sort"));
    }

    [Fact]
    public void One_tap_assigns_and_undo_takes_it_back()
    {
        var made = SampleSchool.Assignment() with { DueOn = new DateOnly(2026, 3, 10) };
        var api = Api(Student).Answer<IReadOnlyList<AssignmentSummary>>("assignments", [made]).Answer($"assignments/{made.Id}/cancel", "");
        var page = Open<StudentsPage>(api, Roles.Instructor);
        Button(page, "Assign, due Tue 10 Mar").Click();
        page.WaitForAssertion(() => Assert.Contains("Assigned, due Tue 10 Mar.", page.Markup, StringComparison.Ordinal));
        Button(page, "Undo").Click();
        page.WaitForAssertion(() => Assert.Contains("Taken back.", page.Markup, StringComparison.Ordinal));
        Assert.Contains($"POST assignments/{made.Id}/cancel", api.Asked);
    }

    [Fact]
    public void What_another_instructor_has_just_assigned_is_said_and_cannot_be_undone()
    {
        var made = SampleSchool.Assignment() with { AssignedBy = "Callum Reid", WasOpen = true };
        var page = Open<StudentsPage>(Api(Student).Answer<IReadOnlyList<AssignmentSummary>>("assignments", [made]), Roles.Instructor);
        Button(page, "Assign, due").Click();
        page.WaitForAssertion(() => Assert.Contains("Callum Reid has already assigned it", page.Markup, StringComparison.Ordinal));
        Assert.DoesNotContain(page.FindAll("button"), b => b.TextContent.Trim() == "Undo");
    }

    [Fact]
    public void Without_students_of_ones_own_the_way_to_all_is_shown() =>
        Assert.Contains(
            "No student is yours yet.",
            Open<StudentsPage>(Api(), Roles.Instructor).Find(".empty").TextContent,
            StringComparison.Ordinal
        );

    [Fact]
    public void The_chief_is_shown_all_students()
    {
        var api = Api(Student);
        var page = Open<StudentsPage>(api, Roles.Chief);
        Assert.Equal("all", page.Find("option[value=all]").ParentElement!.GetAttribute("value"));
        Assert.DoesNotContain(api.Asked, a => a.Contains("mine=true", StringComparison.Ordinal));
    }

    [Fact]
    public void An_instructor_is_shown_his_own()
    {
        var api = Api(Student);
        var page = Open<StudentsPage>(api, Roles.Instructor);
        Assert.Equal("mine", page.Find("option[value=all]").ParentElement!.GetAttribute("value"));
        Assert.Contains(api.Asked, a => a.Contains("mine=true", StringComparison.Ordinal));
    }

    private static SchoolApi Api(params StudentStanding[] students) =>
        SchoolApi
            .For(Roles.Instructor)
            .Answer("students", new StudentList(students, 1, 20, students.Length, [.. students.Select(s => new NeedCount(s.Need, 1))]));
}
