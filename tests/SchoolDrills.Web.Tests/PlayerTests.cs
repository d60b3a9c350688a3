using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Web.Charts;
using SchoolDrills.Web.Drills;

namespace SchoolDrills.Web.Tests;

public sealed class PlayerTests : PageTest
{
    [Fact]
    public void The_drill_flies_on_its_page_with_controls_that_have_names_and_words_for_the_scan()
    {
        var api = SchoolApi.For(Roles.Instructor).Answer("drills/two-turns/example", new DrillExampleLink(true, SampleSchool.AttemptId));
        var page = Open<DrillPage>(api, Roles.Instructor, p => p.Add(x => x.Slug, "two-turns"));
        var player = page.Find("section.player");
        Assert.Equal("Play", player.QuerySelector("[data-play]")!.TextContent);
        Assert.Equal("Time in the drill", player.QuerySelector("[data-time]")!.GetAttribute("aria-label"));
        Assert.Equal("240", player.QuerySelector("[data-time]")!.GetAttribute("max"));
        Assert.Equal(4, player.QuerySelectorAll("figure[data-instrument]").Length);
        page.WaitForAssertion(() => Assert.Equal($"/attempts/{SampleSchool.AttemptId}", page.Find(".scan a").GetAttribute("href")));
    }

    [Fact]
    public void Students_are_told_of_an_example_that_they_may_not_open()
    {
        var api = SchoolApi.For(Roles.Student).Answer("drills/two-turns/example", new DrillExampleLink(true, null));
        var page = Open<DrillPage>(api, Roles.Student, p => p.Add(x => x.Slug, "two-turns"));
        page.WaitForAssertion(() => Assert.Contains("has an example", page.Find(".scan").TextContent));
        Assert.Empty(page.FindAll(".scan a"));
    }

    [Fact]
    public void What_the_script_is_sent_has_a_place_and_a_scan_for_every_second()
    {
        var sketch = new DrillSketch(SampleSchool.Picture, SampleSchool.Timeline, 360);
        var flown = FlownDrill.Of(SampleSchool.Timeline, SampleSchool.Picture, sketch);
        Assert.Equal(241, flown.TimeS.Length);
        Assert.All(
            (double[][])[flown.HeadingMagDeg, flown.AltitudeFt, flown.PlanX, flown.PlanY, flown.ProfileX, flown.ProfileY],
            column => Assert.Equal(flown.TimeS.Length, column.Length)
        );
        Assert.All(flown.PlanX, x => Assert.InRange(x, 0, sketch.WidthPx));
        Assert.All(flown.PlanY, y => Assert.InRange(y, 0, sketch.HeightPx));
        Assert.Equal(0, flown.Scans[0].FromS);
        Assert.Equal(SampleSchool.Timeline.Segments.Count, flown.Segments.Count);
    }
}
