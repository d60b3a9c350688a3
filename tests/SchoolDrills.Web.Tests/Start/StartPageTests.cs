using System.Net;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Web.People;
using SchoolDrills.Web.Start;

namespace SchoolDrills.Web.Tests.Start;

/// <summary>The guide through a school's first hour.</summary>
public class StartPageTests : PageTest
{
    [Fact]
    public void The_first_step_that_is_left_is_open_and_each_says_how_it_stands()
    {
        var page = Open<StartPage>(Api(Guide(done: [StartSteps.School], skipped: [StartSteps.People])), Roles.Chief);
        Assert.Equal(
            ["done", "skipped", "to do", "to do", "to do"],
            page.FindAll(".mark").Select(m => m.TextContent.Trim().TrimStart('✓', ' '))
        );
        Assert.Equal(StartSteps.Drills, Assert.Single(page.FindAll("details.step[open]")).Id);
    }

    [Fact]
    public void A_skipped_step_is_kept_on_the_school_beside_those_skipped_before()
    {
        var api = Api(Guide(skipped: [StartSteps.People]));
        var page = Open<StartPage>(api, Roles.Chief);
        page.Find($"#{StartSteps.Drills} .skip-step button").Click();
        Assert.Equal("""{"skipped":["people","drills"]}""", api.Sent["PUT school/start"]);
    }

    [Fact]
    public void When_nothing_is_left_the_school_is_ready_and_the_desk_is_one_link_away()
    {
        var page = Open<StartPage>(Api(Guide(done: StartSteps.All)), Roles.Chief);
        var notice = page.Find(".notice");
        Assert.Contains("Ready to work", notice.TextContent, StringComparison.Ordinal);
        Assert.Equal("/", notice.QuerySelector("a")!.GetAttribute("href"));
    }

    [Theory]
    [InlineData(false, false, 1)]
    [InlineData(true, false, 0)]
    [InlineData(false, true, 0)]
    public void The_home_of_a_chief_reminds_until_the_guide_is_finished_or_put_away(bool finished, bool dismissed, int lines)
    {
        var guide = Guide(done: finished ? StartSteps.All : [StartSteps.School]) with { Dismissed = dismissed };
        var line = Open<StartLine>(Api(guide), Roles.Chief);
        Assert.Equal(lines, line.FindAll(".start-line").Count);
        if (lines > 0)
            Assert.Equal("Next: people", line.Find("a").TextContent);
    }

    [Fact]
    public void Where_the_guide_cannot_be_fetched_the_home_is_as_usual() =>
        Assert.Empty(
            Open<StartLine>(SchoolApi.For(Roles.Chief).Refuse("school/start", HttpStatusCode.InternalServerError, "No."), Roles.Chief)
                .Markup.Trim()
        );

    [Fact]
    public void A_pasted_list_is_looked_over_corrected_in_place_and_its_good_rows_are_invited()
    {
        var api = Api(Guide())
            .Answer<IReadOnlyList<PersonLink>>("POST people/invitations", [Link("Ann", "ann@a.example"), Link("Ben", "ben@a.example")]);
        var form = Open<InviteListForm>(api, Roles.Chief);
        form.Find("textarea").Change("Ann,ann@a.example\nBen,ben at a.example\nRewi,student@tussockplains.example");
        Button(form, "Check").Click();
        Assert.Contains("1 ready to invite, 2 to correct", form.Find("p[role=status]").TextContent, StringComparison.Ordinal);
        Assert.Contains("not an email address", form.FindAll(".wrong")[0].TextContent, StringComparison.Ordinal);
        Assert.Contains("has an account at this school already", form.FindAll(".wrong")[1].TextContent, StringComparison.Ordinal);

        form.Find("input[aria-label='Email, row 2']").Change("ben@a.example");
        Button(form, "Invite 2 people").Click();
        Assert.Contains("ben@a.example", api.Sent["POST people/invitations"], StringComparison.Ordinal);
        Assert.DoesNotContain("student@tussockplains.example", api.Sent["POST people/invitations"], StringComparison.Ordinal);
        Assert.Contains("2 people invited", form.Find(".notice").TextContent, StringComparison.Ordinal);
        Assert.Contains("/welcome?token=ann", form.Find("#invite-links").TextContent, StringComparison.Ordinal);
        Assert.Contains("token%3Dben", form.Find("a[download]").GetAttribute("href"), StringComparison.Ordinal);
        // The row that was not good stays to be corrected or left out.
        Assert.Single(form.FindAll("tbody tr"));
    }

    [Fact]
    public void What_is_no_text_and_what_names_nobody_is_told_in_a_sentence()
    {
        var form = Open<InviteListForm>(Api(Guide()), Roles.Chief);
        form.Find("textarea").Change("PK\u0003\u0004sheet");
        Button(form, "Check").Click();
        Assert.Contains("save the sheet as CSV", form.Find("[role=alert]").TextContent, StringComparison.Ordinal);
        form.Find("textarea").Change("  \n");
        Button(form, "Check").Click();
        Assert.Contains("nobody in this list", form.Find("[role=alert]").TextContent, StringComparison.Ordinal);
    }

    private static SchoolApi Api(SchoolStart guide) =>
        SchoolApi
            .For(Roles.Chief)
            .Answer("school/start", guide)
            .Answer("PUT school/start", guide)
            .Answer("school/settings", new SchoolSettings(SampleSchool.Person(Roles.Chief).School.GradeScale, new GradingSettings()));

    private static SchoolStart Guide(IReadOnlyList<string>? done = null, IReadOnlyList<string>? skipped = null) =>
        new(
            [.. StartSteps.All.Select(s => new StartStep(s, done?.Contains(s) is true, skipped?.Contains(s) is true))],
            Dismissed: false,
            HasSampleDrill: true
        );

    private static PersonLink Link(string name, string email) =>
        new(
            new PersonSummary(Guid.NewGuid(), name, email, [Roles.Student], true, "invited"),
            $"/welcome?token={name.ToLowerInvariant()}",
            SampleSchool.Now.AddDays(7),
            Mailed: false
        );
}
