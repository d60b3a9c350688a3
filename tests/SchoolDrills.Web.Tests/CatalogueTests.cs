using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Drills;

namespace SchoolDrills.Web.Tests;

public sealed class CatalogueTests : PageTest
{
    private static readonly DrillSummary[] Drills =
    [
        Drill("timed-turns", "Timed turns", 2, 240, SegmentKind.LevelTurn),
        Drill("half-rate-timed-turns", "Half-rate timed turns", 1, 480, SegmentKind.LevelTurn),
        Drill("teardrop-20", "Teardrop, 20°", 3, 250, SegmentKind.LevelTurn, SegmentKind.LevelStraight),
        Drill("teardrop-10", "Teardrop, 10°", 3, 240, SegmentKind.LevelTurn, SegmentKind.LevelStraight),
        Drill("saw-tooth", "Saw tooth", 2, 700, SegmentKind.ClimbStraight, SegmentKind.DescendStraight) with
        {
            LoadOnTop = true,
        },
    ];

    [Fact]
    public void Steps_and_variants_stand_with_the_one_to_begin_with()
    {
        var families = DrillFamilies.Of(Drills).Select(f => string.Join(" ", f.Select(d => d.Slug)));
        Assert.Equal(["half-rate-timed-turns timed-turns", "saw-tooth", "teardrop-10 teardrop-20"], families);
    }

    [Theory]
    [InlineData("TEAR 20", null, null, null, "teardrop-20")]
    [InlineData(null, "climbs", null, null, "saw-tooth")]
    [InlineData(null, "load", null, null, "saw-tooth")]
    [InlineData(null, "speed", null, null, "")]
    [InlineData(null, "turns", 2, null, "timed-turns")]
    [InlineData(null, null, null, "medium", "half-rate-timed-turns")]
    [InlineData(null, null, null, "long", "saw-tooth")]
    [InlineData("nothing like it", null, null, null, "")]
    public void A_drill_is_found_by_words_by_what_it_trains_by_level_and_by_length(
        string? words,
        string? trains,
        int? level,
        string? length,
        string found
    )
    {
        var filter = new DrillFilter(words, trains, level, length);
        Assert.Equal(found, string.Join(" ", Drills.Where(filter.Takes).Select(d => d.Slug)));
    }

    [Fact]
    public void The_address_says_what_is_looked_for_and_nothing_found_says_so()
    {
        var api = SchoolApi.For(Roles.Student).Answer<IReadOnlyList<DrillSummary>>("drills", Drills);
        var page = Open<CataloguePage>(api, Roles.Student, address: "/catalogue?trains=climbs");
        Assert.Equal(["Saw tooth"], page.FindAll(".drills h3").Select(h => h.TextContent.Trim()));
        Assert.Equal("1 of 5 drills.", page.Find("[role=status]").TextContent);
        page.Find("select[value=climbs], select").Change("speed");
        page.WaitForAssertion(() => Assert.Contains("No drills match.", page.Find(".empty").TextContent));
        page.Find(".empty button").Click();
        page.WaitForAssertion(() => Assert.Equal(3, page.FindAll(".drills > li").Count));
        Assert.Equal(2, page.FindAll(".twins a").Count);
    }

    private static DrillSummary Drill(string slug, string title, int level, double durationS, params SegmentKind[] kinds) =>
        new(slug, 1, title, $"Purpose of {slug}.", durationS, kinds.Length, level, "published", "instrument-rating") { Kinds = kinds };
}
