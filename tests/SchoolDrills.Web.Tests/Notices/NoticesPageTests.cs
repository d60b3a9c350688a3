using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;
using SchoolDrills.Web.Notices;

namespace SchoolDrills.Web.Tests.Notices;

public sealed class NoticesPageTests : PageTest
{
    private static readonly Guid Other = Guid.NewGuid();

    [Fact]
    public void Nothing_told_says_what_will_be_told_here()
    {
        var page = Open<NoticesPage>(new SchoolApi().Answer("me/notices", new NoticePage([], 1, 30, 0, 0)), Roles.Student);
        Assert.Contains("New assignments and grades", page.Find(".empty").TextContent, StringComparison.Ordinal);
        Assert.Empty(page.FindAll("button"));
    }

    [Fact]
    public void Each_notice_is_a_sentence_that_leads_to_its_work_and_says_in_words_that_it_is_new()
    {
        var (student, attempt, assignment) = (SampleSchool.Person(Roles.Student).Id, Guid.NewGuid(), Guid.NewGuid());
        var page = Open<NoticesPage>(
            Told(
                Notice(NoticeKind.Graded, student, attempt: attempt),
                Notice(NoticeKind.Overdue, student, assignment: assignment, read: true)
            ),
            Roles.Student
        );
        var lines = page.FindAll(".notices li");
        Assert.Equal($"/attempts/{attempt}", lines[0].QuerySelector("a")!.GetAttribute("href"));
        Assert.Equal("Two climbing turns: your flight was graded", lines[0].QuerySelector("a")!.TextContent);
        Assert.Equal("New", lines[0].QuerySelector(".mark")!.TextContent);
        Assert.Equal($"/assignments/{assignment}", lines[1].QuerySelector("a")!.GetAttribute("href"));
        Assert.Contains("was due Fri 6 Mar and is not flown yet", lines[1].TextContent, StringComparison.Ordinal);
        Assert.Null(lines[1].QuerySelector(".mark"));
    }

    [Fact]
    public void An_instructor_reads_whose_work_is_overdue_and_who_replied()
    {
        var page = Open<NoticesPage>(Told(Notice(NoticeKind.Overdue, Other), Notice(NoticeKind.Replied, Other)), Roles.Instructor);
        Assert.Equal(
            ["Rewi Marsh has not flown Two climbing turns, due Fri 6 Mar", "Rewi Marsh replied to your grade of Two climbing turns"],
            page.FindAll(".notices a").Select(a => a.TextContent)
        );
    }

    [Fact]
    public void Marking_all_read_asks_once_and_shows_what_is_left()
    {
        var api = Told(Notice(NoticeKind.Graded, Other)).Answer("me/notices/read", new NoticeCount(0));
        var page = Open<NoticesPage>(api, Roles.Student);
        api.Answer("me/notices", new NoticePage([Notice(NoticeKind.Graded, Other, read: true)], 1, 30, 1, 0));
        Button(page, "Mark all read").Click();
        page.WaitForAssertion(() => Assert.Contains("No unread notices.", page.Markup, StringComparison.Ordinal));
        Assert.Single(api.Asked, "POST me/notices/read");
        Assert.Empty(page.FindAll("button"));
    }

    [Fact]
    public void The_bell_says_how_many_are_unread_and_follows_what_is_read()
    {
        var api = new SchoolApi().Answer("me/notices/count", new NoticeCount(3));
        var me = new SignedIn(SampleSchool.Person(Roles.Student), new FixedClock(SampleSchool.Now));
        var bell = Open<NoticeBell>(api, Roles.Student, p => p.Add(x => x.Me, me));
        bell.WaitForAssertion(() => Assert.Equal("Notices, 3 unread", bell.Find("a").GetAttribute("aria-label")));
        Assert.Equal("3", bell.Find(".unread").TextContent);
        me.TellNoticesRead(0);
        bell.WaitForAssertion(() => Assert.Equal("Notices, none unread", bell.Find("a").GetAttribute("aria-label")));
        Assert.Empty(bell.FindAll(".unread"));
        // Once for the page, and no more until the next one is opened.
        Assert.Single(api.Asked);
        Services.GetRequiredService<NavigationManager>().NavigateTo("/catalogue");
        bell.WaitForAssertion(() => Assert.Equal(2, api.Asked.Count));
    }

    private static SchoolApi Told(params NoticeSummary[] notices) =>
        new SchoolApi().Answer("me/notices", new NoticePage(notices, 1, 30, notices.Length, notices.Count(n => !n.Read)));

    private static NoticeSummary Notice(NoticeKind kind, Guid student, Guid? assignment = null, Guid? attempt = null, bool read = false) =>
        new(
            Guid.NewGuid(),
            kind,
            "Two climbing turns",
            student,
            "Rewi Marsh",
            assignment,
            attempt,
            new DateOnly(2026, 3, 6),
            SampleSchool.Now.AddHours(-1),
            read
        );
}
