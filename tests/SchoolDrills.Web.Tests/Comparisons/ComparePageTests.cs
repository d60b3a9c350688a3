using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Comparisons;
using SchoolDrills.Web.Debrief;

namespace SchoolDrills.Web.Tests.Comparisons;

public sealed class ComparePageTests : PageTest
{
    private static readonly IReadOnlyList<RibbonSegment> Segments = Ribbon.Of(SampleSchool.Report);

    private static readonly AttemptComparison WithLast = new(
        [ComparedWith.Last, ComparedWith.Best],
        ComparedWith.Last,
        null,
        new Guid("44444444-0000-0000-0000-000000000009"),
        SampleSchool.Now.AddDays(-7),
        0.62,
        $"api/v1/attempts/{SampleSchool.AttemptId}/comparison/track?with=last",
        [.. Segments.Select(s => new ComparedSegment(s, s with { Worst = "+240 ft" }, 4, -2))],
        new EntryShift(0, 500, 0, false)
    );

    [Fact]
    public void It_offers_what_there_is_and_tells_both_lines_apart_in_words()
    {
        var page = Compare(WithLast);
        Assert.Equal(["The one before", "The best other"], page.FindAll("nav[aria-label='Compare with'] a").Select(a => a.TextContent));
        Assert.Equal("The one before", page.Find("[aria-current=true]").TextContent);
        Assert.Contains("Dashed line: the last attempt before it, flown Tue 24 Feb", page.Find(".legend").TextContent);
        Assert.Contains("62% in the other", page.Find(".lead").TextContent);
        Assert.Contains("raised by 500 ft", page.Markup);
    }

    [Fact]
    public void The_table_has_worst_deviation_and_start_then_and_now()
    {
        var cells = Compare(WithLast).FindAll("tbody tr")[0].QuerySelectorAll("td").Select(c => c.TextContent.Trim()).ToList();
        Assert.EndsWith("+240 ft", cells[1], StringComparison.Ordinal);
        Assert.Equal(["4 s late", "2 s early"], cells[2..]);
    }

    [Fact]
    public void The_example_has_no_day_no_share_and_no_start_errors()
    {
        var page = Compare(
            WithLast with
            {
                With = ComparedWith.Example,
                OtherId = null,
                OtherFlownAtUtc = null,
                OtherWithinShare = null,
                Shift = null,
            }
        );
        Assert.Contains("Dashed line: the school's example", page.Find(".legend").TextContent);
        Assert.DoesNotContain("Start in the other", page.Markup);
        Assert.DoesNotContain("in the other.", page.Find(".lead").TextContent);
    }

    [Fact]
    public void The_first_attempt_says_so_and_draws_nothing()
    {
        var page = Compare(
            new AttemptComparison([], null, "This is the first attempt at this drill: none to compare.", null, null, null, null, [], null)
        );
        Assert.Contains("This is the first attempt at this drill", page.Find(".empty").TextContent);
        Assert.Empty(page.FindAll(".overlay"));
    }

    [Fact]
    public void The_debrief_leads_here_only_where_there_is_something_to_compare_with()
    {
        var api = SchoolApi
            .For(Roles.Instructor)
            .Answer($"attempts/{SampleSchool.AttemptId}", SampleSchool.Detail() with { ComparableWith = [ComparedWith.Best] });
        var page = Open<DebriefPage>(api, Roles.Instructor, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        page.WaitForAssertion(() => Assert.EndsWith("/compare?with=best", page.Find("a[href*='/compare']").GetAttribute("href")));
    }

    [Fact]
    public void Without_the_students_consent_nothing_can_be_made_an_example()
    {
        var api = SchoolApi.For(Roles.Instructor).Answer($"attempts/{SampleSchool.AttemptId}/example", new ExampleStanding(false, false));
        var panel = Open<ExamplePanel>(api, Roles.Instructor, p => p.Add(x => x.Attempt, SampleSchool.Detail()));
        panel.WaitForAssertion(() => Assert.True(Button(panel, "Make it the example").HasAttribute("disabled")));
        panel.Find("input[type=checkbox]").Change(true);
        Assert.False(Button(panel, "Make it the example").HasAttribute("disabled"));
    }

    private IRenderedComponent<ComparePage> Compare(AttemptComparison comparison)
    {
        var api = SchoolApi.For(Roles.Instructor).Answer($"attempts/{SampleSchool.AttemptId}/comparison", comparison);
        var page = Open<ComparePage>(api, Roles.Instructor, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        page.WaitForElement("h1");
        return page;
    }
}
