using System.Globalization;
using AngleSharp.Dom;
using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Charts;

namespace SchoolDrills.Web.Tests.Charts;

public sealed class SegmentRibbonTests : BunitContext
{
    private static readonly IReadOnlyList<RibbonSegment> Box =
    [
        .. BoxDrill
            .Timeline()
            .Segments.Select(s => new RibbonSegment(s.Index, s.Name, s.Kind, s.DurationS, (Verdict)(s.Index % 4), "+118 ft", s.TurnDeg)),
    ];

    [Fact]
    public void Widths_are_the_times_and_sum_to_the_whole_drill()
    {
        var ribbon = Render<SegmentRibbon>(p => p.Add(r => r.Segments, Box));

        var widths = ribbon.FindAll(".segment").Select(Seconds).ToList();

        Assert.Equal(Box.Select(s => s.DurationS), widths);
        Assert.Equal(840, widths.Sum());
    }

    [Fact]
    public void A_drill_of_four_like_sides_breaks_into_its_sides()
    {
        var rows = RibbonRows.Of(Box);

        Assert.Equal([210, 210, 210, 210], rows.Select(r => r.Sum(s => s.DurationS)));
        Assert.Equal(Box, rows.SelectMany(r => r));
    }

    [Fact]
    public void A_click_chooses_a_segment_and_a_second_click_chooses_none()
    {
        List<int?> chosen = [];
        var ribbon = Interactive(null, chosen);
        ribbon.FindAll("button")[3].Click();
        ribbon.Render(p => p.Add(r => r.Selected, 3));
        ribbon.FindAll("button")[3].Click();

        Assert.Equal([3, null], chosen);
    }

    [Fact]
    public void A_small_ribbon_links_each_segment_without_a_tab_stop_of_its_own()
    {
        var ribbon = Render<SegmentRibbon>(p =>
            p.Add(r => r.Segments, Box).Add(r => r.Compact, true).Add(r => r.LinkFor, index => $"/attempts/x?segment={index + 1}")
        );

        var links = ribbon.FindAll("a");
        Assert.Equal(Box.Select(s => $"/attempts/x?segment={s.Index + 1}"), links.Select(a => a.GetAttribute("href")));
        Assert.All(links, a => Assert.Equal("-1", a.GetAttribute("tabindex")));
        Assert.All(links, a => Assert.False(string.IsNullOrEmpty(a.GetAttribute("aria-label"))));
    }

    [Fact]
    public void Arrows_move_the_one_tab_stop_and_stay_within_the_ribbon()
    {
        var ribbon = Interactive(null, []);

        Assert.Equal([0], TabStops(ribbon));
        ribbon.FindAll("button")[0].KeyDown(new KeyboardEventArgs { Key = "ArrowRight" });
        Assert.Equal([1], TabStops(ribbon));
        ribbon.FindAll("button")[1].KeyDown(new KeyboardEventArgs { Key = "End" });
        Assert.Equal([15], TabStops(ribbon));
        ribbon.FindAll("button")[15].KeyDown(new KeyboardEventArgs { Key = "ArrowRight" });
        Assert.Equal([15], TabStops(ribbon));
    }

    [Fact]
    public void What_is_too_narrow_to_show_is_still_told()
    {
        var button = Interactive(1, []).FindAll("button")[1];

        Assert.Equal("2 Climbing right turn, right climbing turn, 2:00 from 0:30: close, worst +118 ft", button.GetAttribute("title"));
        Assert.Equal("true", button.GetAttribute("aria-pressed"));
    }

    [Fact]
    public void In_a_list_the_ribbon_is_one_picture_with_the_verdicts_counted()
    {
        var ribbon = Render<SegmentRibbon>(p => p.Add(r => r.Segments, Box).Add(r => r.Compact, true));

        Assert.Empty(ribbon.FindAll("button"));
        Assert.Equal("Segments: 4 met, 4 close, 4 not met, 4 not measured", ribbon.Find("[role=img]").GetAttribute("aria-label"));
    }

    [Fact]
    public void Without_buttons_the_segments_can_be_links()
    {
        var ribbon = Render<SegmentRibbon>(p => p.Add(r => r.Segments, Box).Add(r => r.LinkFor, i => $"/attempts/1?segment={i}"));

        Assert.Equal("/attempts/1?segment=5", ribbon.FindAll("a")[5].GetAttribute("href"));
    }

    [Fact]
    public void No_segments_are_told_in_words() =>
        Assert.Equal("No segments scored yet.", Render<SegmentRibbon>(p => p.Add(r => r.Segments, [])).Find("p").TextContent);

    private IRenderedComponent<SegmentRibbon> Interactive(int? selected, List<int?> chosen)
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        return Render<SegmentRibbon>(p =>
            p.Add(r => r.Segments, Box)
                .Add(r => r.Selected, selected)
                .Add(r => r.SelectedChanged, EventCallback.Factory.Create<int?>(this, chosen.Add))
        );
    }

    private static IEnumerable<int> TabStops(IRenderedComponent<SegmentRibbon> ribbon) =>
        ribbon.FindAll("button").Select((b, i) => (b, i)).Where(x => x.b.GetAttribute("tabindex") == "0").Select(x => x.i);

    private static double Seconds(IElement segment) =>
        double.Parse(segment.GetAttribute("style")!.Split(':')[1], CultureInfo.InvariantCulture);
}
