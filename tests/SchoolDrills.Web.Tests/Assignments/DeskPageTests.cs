using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Web.Assignments;
using SchoolDrills.Web.Layout;
using static SchoolDrills.Web.Tests.SampleSchool;

namespace SchoolDrills.Web.Tests.Assignments;

public sealed class DeskPageTests : PageTest
{
    [Theory]
    [InlineData(1, "came in today")]
    [InlineData(11, "waiting 1 day")]
    [InlineData(72, "waiting 3 days")]
    public void How_long_a_recording_waits_is_told_in_days_of_the_school(double hoursAgo, string words)
    {
        // 10:00 at the school: eleven hours ago was yesterday.
        var time = new SchoolTime("Pacific/Auckland", new FixedClock(Now));
        Assert.Equal(words, DeskWords.Waiting(Now.AddHours(-hoursAgo), time));
    }

    [Fact]
    public void A_row_names_the_instructor_and_a_due_drill_shows_how_it_went_last()
    {
        var overdue = new DeskRow(null, Assignment("overdue", new DateOnly(2026, 3, 1)), "Callum Reid", Attempt(hoursAgo: 50));
        var never = new DeskRow(null, Assignment("open", new DateOnly(2026, 3, 5)), "Ilse Farrow", null);
        var page = Open<Web.Assignments.Desk>(Api(Desk(overdue: [overdue], dueSoon: [never])), Roles.Instructor);
        var about = page.FindAll(".work .about").Select(a => a.TextContent).ToList();
        Assert.Equal("not met, 78% in tolerance; flown today, 06:00; assigned by Ilse Farrow", about[0]);
        Assert.Equal("last time not met, 78% in tolerance, Sun 1 Mar; assigned by Callum Reid", about[1]);
        Assert.Equal("not flown before; assigned by Ilse Farrow", about[2]);
        Assert.Equal(2, page.FindAll(".work .ribbon").Count);
        Assert.Equal(["came in today", "2 days overdue", "due Thu 5 Mar"], page.FindAll(".work .state").Select(s => s.TextContent));
    }

    [Fact]
    public void A_list_that_is_cut_says_how_many_more_there_are_and_where()
    {
        var page = Open<Web.Assignments.Desk>(Api(Desk(more: 35)), Roles.Instructor);
        Assert.Equal("36", page.Find("#desk-ToGrade .soft").TextContent);
        var more = page.Find("a[aria-label='Show more: To grade']");
        Assert.Contains("and 35 more", more.ParentElement!.TextContent, StringComparison.Ordinal);
        Assert.Equal("/?whose=mine&rows=100", more.GetAttribute("href"));
    }

    [Theory]
    [InlineData(Roles.Instructor, null, "mine=true")]
    [InlineData(Roles.Chief, null, "mine=false")]
    [InlineData(Roles.Chief, "/?whose=mine", "mine=true")]
    [InlineData(Roles.Instructor, "/?whose=all&rows=100", "mine=false&rows=100")]
    [InlineData(Roles.Instructor, "/?rows=5000", "mine=true&rows=100")]
    public void Whose_work_is_shown_is_the_roles_own_unless_the_address_says_otherwise(string role, string? address, string asked)
    {
        var api = Api(Desk());
        var page = Open<Web.Assignments.Desk>(api, role, address: address);
        Assert.Equal([$"GET desk?{asked}"], api.Asked);
        Assert.Equal(
            asked.StartsWith("mine=true", StringComparison.Ordinal) ? "Mine" : "All",
            page.Find(".whose [aria-current]").TextContent
        );
    }

    [Fact]
    public void Who_has_no_students_yet_is_told_how_one_gets_them() =>
        Assert.Contains(
            "No student is yours yet",
            Open<Web.Assignments.Desk>(Api(Desk(toGrade: []) with { Students = 0 }), Roles.Instructor).Find(".empty").TextContent,
            StringComparison.Ordinal
        );

    private static SchoolApi Api(DeskWork desk) => SchoolApi.For(Roles.Instructor).Answer("desk", desk);
}
