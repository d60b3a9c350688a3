using System.Net;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Web.Assignments;
using SchoolDrills.Web.Debrief;
using SchoolDrills.Web.Layout;
using SchoolDrills.Web.Progress;

namespace SchoolDrills.Web.Tests;

public sealed class PagesTests : PageTest
{
    [Fact]
    public void A_student_without_assignments_is_told_what_to_do()
    {
        var api = SchoolApi.For(Roles.Student).Answer<IReadOnlyList<AssignmentSummary>>("assignments", []);
        Assert.Contains("No drill is assigned to you yet", Open<MyWork>(api, Roles.Student).Find(".empty").TextContent);
    }

    [Fact]
    public void The_next_drill_comes_with_its_numbers_and_its_standard()
    {
        var page = Open<MyWork>(SchoolApi.For(Roles.Student), Roles.Student);
        page.WaitForAssertion(() =>
        {
            var next = page.Find(".next").TextContent;
            Assert.Contains("Two climbing turns", next);
            Assert.Contains("due Fri 6 Mar", next);
            Assert.Contains("360°", next);
            Assert.Contains("±100 ft", next);
        });
    }

    [Fact]
    public void An_instructors_empty_desk_says_that_nothing_waits()
    {
        var api = SchoolApi.For(Roles.Instructor).Answer("desk", SampleSchool.Desk(toGrade: []));
        Assert.Contains("All caught up", Open<Desk>(api, Roles.Instructor).Find(".empty").TextContent);
    }

    [Theory]
    [InlineData(true, 1)]
    [InlineData(false, 0)]
    public void The_account_offers_a_daily_mail_only_where_the_site_sends_mail(bool sendsMail, int choices)
    {
        var me = SampleSchool.Person(Roles.Student);
        var api = SchoolApi
            .For(Roles.Student)
            .Answer("me/account", new AccountDetail(false, 0) { SendsMail = sendsMail })
            .Answer<IReadOnlyList<SchoolChoice>>("me/schools", [])
            .Answer<IReadOnlyList<SessionSummary>>($"people/{me.Id}/sessions", [])
            .Answer<IReadOnlyList<ApiTokenSummary>>($"people/{me.Id}/tokens", []);
        var page = Open<SchoolDrills.Web.People.AccountPage>(api, Roles.Student);
        page.WaitForAssertion(() =>
        {
            Assert.Equal(choices, page.FindAll("[aria-labelledby=mail] input").Count);
            Assert.Equal(!sendsMail, page.Find("[aria-labelledby=mail]").TextContent.Contains("sends no email", StringComparison.Ordinal));
        });
    }

    [Fact]
    public void A_refusal_is_shown_as_its_sentence_and_trying_again_asks_again()
    {
        var api = SchoolApi.For(Roles.Instructor).Refuse("desk", HttpStatusCode.ServiceUnavailable, "The database is being restored.");
        var page = Open<Desk>(api, Roles.Instructor);
        Assert.Contains("The database is being restored.", page.Find("[role=alert]").TextContent);
        api.Answer("desk", SampleSchool.Desk(toGrade: []));
        page.Find("[role=alert] button").Click();
        page.WaitForAssertion(() => Assert.Empty(page.FindAll("[role=alert]")));
    }

    [Fact]
    public void A_debrief_begins_with_the_verdict_and_three_findings()
    {
        var page = Open<DebriefPage>(SchoolApi.For(Roles.Instructor), Roles.Instructor, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        Assert.Contains(
            "Outside the standard: all in tolerance for 78% of the drill, 2 met, 1 close, 1 not met.",
            page.Find(".verdict-line").TextContent
        );
        Assert.Equal(3, page.FindAll(".findings li").Count);
    }

    [Fact]
    public void An_unscorable_recording_gives_its_reason_and_the_way_on()
    {
        var api = SchoolApi
            .For(Roles.Student)
            .Answer($"attempts/{SampleSchool.AttemptId}", SampleSchool.Detail(status: AttemptStatus.Unscorable));
        var page = Open<DebriefPage>(api, Roles.Student, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        Assert.Contains("The recording ends before the drill begins.", page.Markup);
        Assert.NotNull(page.Find($"a[href='/assignments/{SampleSchool.AssignmentId}']"));
    }

    [Fact]
    public void A_signed_grade_is_read_and_only_those_who_teach_may_amend_it()
    {
        var api = SchoolApi.For(Roles.Student).Answer($"attempts/{SampleSchool.AttemptId}", SampleSchool.Detail(SampleSchool.Grade()));
        var page = Open<DebriefPage>(api, Roles.Student, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        var buttons = page.FindAll(".grade button").Select(b => b.TextContent.Trim()).ToList();
        Assert.Contains("I have read this grade", buttons);
        Assert.DoesNotContain("Amend", buttons);
        Assert.Contains("Developing", page.Find(".grade").TextContent);
    }

    [Fact]
    public void A_grade_signed_by_another_in_the_meantime_is_told_and_can_be_shown()
    {
        var api = SchoolApi
            .For(Roles.Instructor)
            .Answer($"attempts/{SampleSchool.AttemptId}", SampleSchool.Detail(SampleSchool.Grade()))
            .Refuse(
                $"attempts/{SampleSchool.AttemptId}/grade/amend",
                HttpStatusCode.Conflict,
                "Another instructor amended this grade at 10:02."
            );
        var page = Open<DebriefPage>(api, Roles.Instructor, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        Button(page, "Amend", ".grade").Click();
        page.Find(".grade input[required]").Input("The recording was read again");
        Button(page, "Sign the amendment", ".grade").Click();
        page.WaitForAssertion(() =>
            Assert.Contains("Another instructor amended this grade at 10:02.", page.Find(".grade [role=alert]").TextContent)
        );
        Assert.Contains(page.FindAll(".grade button"), b => b.TextContent.Trim() == "Show the current grade");
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(0, 3)]
    public void Only_what_surely_keeps_failing_is_listed_as_such(int recurring, int listed)
    {
        IReadOnlyList<WeakSegmentSummary> weak =
        [
            .. Enumerable.Range(0, 9).Select(i => SampleSchool.Weak[0] with { Recurring = i < recurring }),
        ];
        var api = SchoolApi.For(Roles.Student).Answer($"students/{SampleSchool.StudentId}/weak-segments", weak);
        var page = Open<StudentProgressView>(api, Roles.Student, p => p.Add(x => x.StudentId, SampleSchool.StudentId));
        Assert.Equal(listed, page.FindAll("section[aria-labelledby=weak] li").Count);
    }

    [Fact]
    public void A_trend_is_told_in_words_and_too_little_data_is_said()
    {
        var page = Open<StudentProgressView>(
            SchoolApi.For(Roles.Student),
            Roles.Student,
            p => p.Add(x => x.StudentId, SampleSchool.StudentId)
        );
        Assert.Contains(
            "Newest 78%, the standard asks for 90%. Better by 8 points an attempt, between 4 and 12. No forecast: too soon to say.",
            page.Markup
        );
        Assert.Contains("Too little data: 2 of 3 attempts.", page.Markup);
    }

    [Fact]
    public void What_keeps_failing_is_told_with_its_interval_and_too_few_attempts_are_left_out()
    {
        var page = Open<StudentProgressView>(
            SchoolApi.For(Roles.Student),
            Roles.Student,
            p => p.Add(x => x.StudentId, SampleSchool.StudentId)
        );
        var weak = Assert.Single(page.FindAll("section[aria-labelledby=weak] li"));
        Assert.Contains("About 62% not met, between 42% and 82%, over 6 attempts", weak.TextContent);
        Assert.Contains("often not met", weak.TextContent);
        Assert.Contains("Hard enough to learn from.", page.Find("section[aria-labelledby=next]").TextContent);
    }

    [Fact]
    public void Load_tasks_are_for_those_who_ask_them()
    {
        var page = Open<AssignmentPage>(SchoolApi.For(Roles.Student), Roles.Student, p => p.Add(x => x.Id, SampleSchool.AssignmentId));
        Assert.DoesNotContain("Report your position to the tower.", page.Markup);
        Assert.DoesNotContain("position, altitude, intentions", page.Markup);
    }

    [Fact]
    public void A_role_sees_the_places_of_its_own_work()
    {
        var places = PlacesOf(Roles.Student);
        Assert.DoesNotContain(places, p => p.Address is "/assign" or "/cockpit/");
        Assert.Equal(("/", "My work"), (places[0].Address, places[0].Label));
        Assert.Contains(places, p => p.Label == "My record");
        Assert.Contains(PlacesOf(Roles.Instructor), p => p.Address == "/cockpit/");
        Assert.DoesNotContain(PlacesOf(Roles.Instructor), p => p.Address is "/audit" or "/records");
        Assert.Contains(PlacesOf(Roles.Chief), p => p.Address == "/audit");
        Assert.All([Roles.Student, Roles.Instructor, Roles.Chief], r => Assert.Contains(PlacesOf(r), p => p.Address == "/account"));
    }

    [Fact]
    public void The_desk_begins_with_what_to_do_next()
    {
        var page = Open<Desk>(SchoolApi.For(Roles.Instructor), Roles.Instructor);
        Assert.StartsWith("Next: grade ", page.Find(".head p").TextContent.Trim(), StringComparison.Ordinal);
        Assert.Equal($"/attempts/{SampleSchool.AttemptId}", page.Find(".head p a").GetAttribute("href"));
    }

    [Fact]
    public void Drills_to_fly_open_in_the_cockpit_from_the_desk_and_from_the_assignment()
    {
        var api = SchoolApi
            .For(Roles.Instructor)
            .Answer("desk", SampleSchool.Desk(toGrade: [], dueSoon: [new(null, SampleSchool.Assignment(), "Ilse Farrow", null)]));
        var desk = Open<Desk>(api, Roles.Instructor);
        Assert.Equal("_top", desk.Find(".section .title a[href='/cockpit/']").GetAttribute("target"));
        var assignment = Render<AssignmentPage>(p =>
            p.AddCascadingValue(SignedInAs(Roles.Instructor)).Add(x => x.Id, SampleSchool.AssignmentId)
        );
        assignment.WaitForAssertion(() => Assert.Equal("_top", assignment.Find(".head a[href='/cockpit/']").GetAttribute("target")));
    }

    private static SignedIn SignedInAs(string role) => new(SampleSchool.Person(role), new FixedClock(SampleSchool.Now));

    private static List<Place> PlacesOf(string role) => [.. MainNavigation.For(SignedInAs(role)).SelectMany(g => g.Places)];
}
