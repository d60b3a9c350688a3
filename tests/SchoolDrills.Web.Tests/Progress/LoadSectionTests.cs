using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Progress;

namespace SchoolDrills.Web.Tests.Progress;

/// <summary>How load is borne over attempts, in one sentence, a picture and figures.</summary>
public sealed class LoadSectionTests : PageTest
{
    [Fact]
    public void Without_notes_there_is_too_little_data_and_nothing_is_drawn()
    {
        var section = Open(SampleLoad.Nothing);
        Assert.Contains("Too little data: no notes were taken on board", section.Markup);
        Assert.Empty(section.FindAll("svg, .rail, .share-bars"));
    }

    [Fact]
    public void Each_attempt_is_a_mark_by_load_and_share_and_the_highest_load_held_is_told()
    {
        var section = Open(SampleLoad.Of((2, 0.95, null, []), (3, 0.92, null, []), (5, 0.6, null, [])), "Rewi Marsh");
        Assert.Equal(
            "Rewi Marsh has stayed in tolerance at up to load level 3 of 5. Notes were taken in 3 attempts.",
            section.Find("p").TextContent
        );
        Assert.Equal(2, section.FindAll(".load .held").Count);
        Assert.Single(section.FindAll(".load .below"));
        Assert.Single(section.FindAll(".load .newest"));
        Assert.Equal(3, section.FindAll("tbody tr").Count);
        Assert.Contains("in tolerance in 2 of 3, at up to level 3. A trend in the level held needs 5 attempts", section.Markup);
        Assert.Contains("Too little data: 0 of 3 attempts with an own load rating.", section.Markup);
    }

    [Fact]
    public void A_drill_never_held_has_no_level()
    {
        var section = Open(SampleLoad.Of((2, 0.5, null, [])));
        Assert.Contains("You have not yet stayed in tolerance for 90% of the time in one of them.", section.Markup);
        Assert.Contains("1 attempt: in tolerance in none.", section.Markup);
    }

    /// <summary>Rated 4, 5 and 4 at loads 2, 3 and 3: biases 2, 2 and 1.</summary>
    [Fact]
    public void Own_ratings_are_told_and_drawn_from_three()
    {
        var section = Open(SampleLoad.Of((2, 1, 4, []), (3, 1, 5, []), (3, 1, 4, [])));
        Assert.Contains("You rate the load higher than the tasks and checks suggest: +1.7 of 5 levels over 3 attempts", section.Markup);
        Assert.Equal("left:91.67%", section.Find(".mark").GetAttribute("style"));
    }

    [Fact]
    public void Checks_missed_stand_by_kind_and_folded_by_name()
    {
        var missed = SampleLoad.Check("Entry flow", CheckKind.Flow, LoadOutcome.Missed);
        var done = SampleLoad.Check("Cruise", CheckKind.Checklist, LoadOutcome.InTime);
        var section = Open(SampleLoad.Of((3, 1, null, [missed, done]), (3, 1, null, [missed, done]), (3, 1, null, [done])));
        Assert.Equal(
            ["Flows", "Checklists"],
            section.FindAll("[aria-label='Checks missed, by kind'] .name").Select(e => e.TextContent.Trim())
        );
        Assert.Contains("too little data: 2 of 3 attempts", section.Find("[aria-label='Checks missed, by kind'] li").TextContent);
        Assert.Contains("0 of 3 missed, 3 attempts", section.FindAll("[aria-label='Checks missed, by kind'] li")[1].TextContent);
        Assert.Equal(2, section.FindAll("details [aria-label='Checks missed, by name'] li").Count);
    }

    private IRenderedComponent<LoadSection> Open(StudentLoad load, string? name = null) =>
        Open<LoadSection>(
            SchoolApi.For(Roles.Student),
            Roles.Student,
            p => p.Add(x => x.Load, load).Add(x => x.TitleOf, _ => "Two climbing turns").Add(x => x.Name, name)
        );
}
