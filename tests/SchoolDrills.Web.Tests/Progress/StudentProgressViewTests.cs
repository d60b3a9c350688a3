using AngleSharp.Dom;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Web.Progress;

namespace SchoolDrills.Web.Tests.Progress;

/// <summary>The progress page from no attempt to many, for the student and for the instructor.</summary>
public sealed class StudentProgressViewTests : PageTest
{
    [Fact]
    public void Without_an_attempt_the_page_says_what_to_do()
    {
        var page = Open(SchoolApi.For(Roles.Student).Answer("attempts", new AttemptPage([], 1, 25, 0)), Roles.Student);
        Assert.Contains("No attempt has been flown yet.", page.Find(".empty").TextContent);
        Assert.Equal("/", page.Find(".empty a").GetAttribute("href"));
        Assert.Empty(page.FindAll("svg"));
    }

    [Fact]
    public void Two_attempts_are_too_little_data_in_every_part_and_no_line_is_drawn()
    {
        var api = Api(SampleProgress.Of(Parameter.Altitude, [0.8, 0.9]))
            .Answer<IReadOnlyList<WeakSegmentSummary>>(Path("weak-segments"), [SampleSchool.Weak[1]])
            .Answer<IReadOnlyList<NextDrillSuggestion>>(Path("next-drill"), []);
        var page = Open(api, Roles.Student);

        foreach (var part in (string[])["stands", "trends", "weak", "next", "own-rating", "load"])
            Assert.Contains("too little data", Part(page, part).TextContent, StringComparison.OrdinalIgnoreCase);
        Assert.Empty(page.FindAll(".trend .line, .trend .band"));
    }

    [Theory]
    [InlineData(3, 0)]
    [InlineData(5, 1)]
    [InlineData(40, 1)]
    public void The_band_is_drawn_from_three_attempts_on_and_the_trend_from_five(int attempts, int lines)
    {
        var shares = Enumerable.Range(0, attempts).Select(i => 0.5 + (0.4 * i / attempts)).ToArray();
        var page = Open(Api(SampleProgress.Of(Parameter.Altitude, shares, trend: 0.02, interval: new Interval(0.01, 0.03))), Roles.Student);
        Assert.Single(page.FindAll(".trend .band"));
        Assert.Equal(lines, page.FindAll(".trend .line").Count);
        Assert.Equal(attempts, page.FindAll(".trend circle").Count);
    }

    [Fact]
    public void What_could_not_be_measured_is_said_and_nothing_is_drawn()
    {
        var page = Open(Api(), Roles.Student);
        Assert.Contains("No scored attempt could be measured yet.", Part(page, "stands").TextContent);
        Assert.Empty(page.FindAll(".trend"));
        Assert.Single(page.FindAll("section[aria-labelledby=flown-attempts]"));
    }

    [Fact]
    public void Older_groups_are_folded_under_the_title_of_their_drill()
    {
        var page = Open(
            Api(
                SampleProgress.Of(Parameter.Altitude, [0.8, 0.9, 0.9]),
                SampleProgress.Of(Parameter.Altitude, [0.5], group: SampleProgress.Box with { HasAirData = false }, daysAgo: 90)
            ),
            Roles.Student
        );
        Assert.Equal("Two climbing turns, level 2, air data recorded", page.Find("section[aria-labelledby=trends] h3").TextContent);
        var folded = Assert.Single(page.FindAll("section[aria-labelledby=trends] details:not([open])"));
        Assert.Contains("Two climbing turns, level 2, positions only", folded.QuerySelector("summary")!.TextContent);
    }

    [Fact]
    public void A_weak_segment_leads_to_its_worst_moment()
    {
        var page = Open(SchoolApi.For(Roles.Student), Roles.Student);
        Assert.Equal(
            $"/attempts/{SampleSchool.AttemptId}?segment=2&parameter=altitude",
            Part(page, "weak").QuerySelector("a")!.GetAttribute("href")
        );
    }

    [Theory]
    [InlineData(Roles.Student, 0)]
    [InlineData(Roles.Instructor, 1)]
    public void An_instructor_can_assign_what_to_fly_next(string role, int buttons)
    {
        var assign = Part(Open(SchoolApi.For(role), role), "next").QuerySelectorAll("a.btn");
        Assert.Equal(buttons, assign.Length);
        Assert.All(assign, a => Assert.Equal($"/assign?student={SampleSchool.StudentId}&drill=two-turns", a.GetAttribute("href")));
    }

    [Fact]
    public void The_own_rating_is_told_with_its_interval_and_drawn()
    {
        var progress = SampleProgress.With(SampleProgress.Of(Parameter.Altitude, [0.8, 0.9, 0.9])) with
        {
            SelfAssessment = [new Calibration(SampleProgress.Box, 4, 0.1, new Interval(0.02, 0.2), Trend.Of([]), null)],
        };
        var page = Open(SchoolApi.For(Roles.Instructor).Answer(Path("progress"), progress), Roles.Instructor);
        var own = Part(page, "own-rating");
        Assert.Contains("Rewi Marsh rates the flying better than it was measured: +10%", own.TextContent);
        Assert.Equal("left:60%", own.QuerySelector(".mark")!.GetAttribute("style"));
    }

    private static SchoolApi Api(params ParameterProgress[] parameters) =>
        SchoolApi.For(Roles.Student).Answer(Path("progress"), SampleProgress.With(parameters));

    private static string Path(string part) => $"students/{SampleSchool.StudentId}/{part}";

    private IRenderedComponent<StudentProgressView> Open(SchoolApi api, string role) =>
        Open<StudentProgressView>(api, role, p => p.Add(x => x.StudentId, SampleSchool.StudentId));

    private static IElement Part(IRenderedComponent<StudentProgressView> page, string name) =>
        page.Find($"section[aria-labelledby={name}]");
}
