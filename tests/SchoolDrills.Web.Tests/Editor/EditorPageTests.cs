using System.Net;
using AngleSharp.Dom;
using Bunit;
using Microsoft.AspNetCore.Components.Forms;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Editor;

namespace SchoolDrills.Web.Tests.Editor;

public sealed class EditorPageTests : PageTest
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);

    private static readonly DrillTemplate Square = SampleSchool.Template with
    {
        Segments =
        [
            new Segment
            {
                Name = "Side",
                Repeat = 4,
                Segments = [new Segment { Name = "leg", DurationS = 60 }, new Segment { Name = "corner", TurnDeg = 90 }],
            },
        ],
    };

    private static DrillDraft Draft(DrillTemplate template) => new(template, 2, SampleSchool.Now, "Kiri Tane", [], 1);

    private static SchoolApi Api(DrillTemplate draft) =>
        SchoolApi
            .For(Roles.Chief)
            .Answer("drills/two-turns/draft", Draft(draft))
            .Answer<IReadOnlyList<DraftRevisionSummary>>("drills/two-turns/draft/revisions", []);

    private IRenderedComponent<EditorPage> Edit(SchoolApi api)
    {
        var page = Open<EditorPage>(api, Roles.Chief, p => p.Add(e => e.Slug, "two-turns"));
        page.WaitForElement("[data-row]", Patience);
        return page;
    }

    private static IElement Field(IRenderedComponent<EditorPage> page, string label) => page.Find($"[aria-label='{label}']");

    [Fact]
    public void The_rows_say_what_is_flown_and_the_preview_whether_it_closes()
    {
        var page = Edit(Api(Square));

        Assert.Equal(["1", "1.1", "1.2"], page.FindAll(".row .no").Select(n => n.TextContent));
        Assert.Contains("Saved at 10:00 by Kiri Tane", page.Find("[data-state]").TextContent, StringComparison.Ordinal);
        Assert.Contains("It ends where it began, on the same heading and altitude.", page.Markup, StringComparison.Ordinal);
        // Four legs of a minute and four quarters of a two-minute circle.
        Assert.Contains("8 segments flown, 6:00", page.Markup, StringComparison.Ordinal);
        Assert.Equal("R 90", Field(page, "Turn of segment 1.2, degrees").GetAttribute("value"));
        Assert.Equal("0:30", Field(page, "Time of segment 1.2").GetAttribute("placeholder"));
    }

    [Fact]
    public void A_contradiction_is_refused_beside_its_segment_with_the_sum()
    {
        var page = Edit(Api(Square));

        Field(page, "Time of segment 1.2").Input("20");

        Assert.Equal(
            "90° at 3°/s takes 30 s, but the time says 20 s.",
            page.Find("[data-row='segments[0].segments[1]'] .refusal").TextContent
        );
        Assert.Contains("1 thing keeps it from being published", page.Markup, StringComparison.Ordinal);
        Assert.True(Button(page, "Publish").HasAttribute("disabled"));
        Field(page, "Time of segment 1.2").Input("");
        Assert.Empty(page.FindAll(".refusal"));
    }

    [Fact]
    public void A_heading_to_turn_to_becomes_a_turn_and_words_that_are_none_are_marked()
    {
        var page = Edit(Api(Square));

        Field(page, "Turn of segment 1.2, degrees").Input("to 270");
        Field(page, "Turn of segment 1.2, degrees").Change("to 270");
        Assert.Equal("L 90", Field(page, "Turn of segment 1.2, degrees").GetAttribute("value"));

        Field(page, "Turn of segment 1.2, degrees").Input("ninety");
        Assert.Equal("true", Field(page, "Turn of segment 1.2, degrees").GetAttribute("aria-invalid"));
    }

    [Fact]
    public async Task A_line_typed_adds_a_segment_which_is_undone_and_redone()
    {
        var page = Edit(Api(Square));

        page.Find("#quick").Input("level off: 30 s");
        Assert.Contains("→ straight and level for 0:30. Enter adds it.", page.Find("#quick-says").TextContent, StringComparison.Ordinal);
        page.Find("form.quick").Submit();
        Assert.Equal("level off", Field(page, "Name of segment 2").GetAttribute("value"));

        await page.InvokeAsync(() => page.Instance.DoAsync("undo", []));
        Assert.Empty(page.FindAll("[aria-label='Name of segment 2']"));
        await page.InvokeAsync(() => page.Instance.DoAsync("redo", []));
        Assert.Equal("level off", Field(page, "Name of segment 2").GetAttribute("value"));
    }

    [Fact]
    public async Task Commands_change_rows_and_say_where_to_go_on()
    {
        var page = Edit(Api(Square));
        async Task<string?> Do(string what, params string[] paths) => await page.InvokeAsync(() => page.Instance.DoAsync(what, paths));

        Assert.Equal("segments[1]", await Do("write-out", "segments[0]") is null ? null : await Do("copy", "segments[0]"));
        Assert.Equal(9, page.FindAll("[data-row]").Count);
        Assert.Equal("segments[0]", await Do("repeat", "segments[0]", "segments[2]"));
        Assert.Equal("2", Field(page, "How often group 1 is flown").GetAttribute("value"));
        await Do("remove", "segments[0]");
        Assert.Equal(6, page.FindAll("[data-row]").Count);
        Assert.Equal("segments[1]", await page.InvokeAsync(() => page.Instance.Drop("segments[0]", "segments[1]", true)));
    }

    [Fact]
    public void What_is_typed_is_saved_after_a_pause()
    {
        var api = Api(Square);
        var page = Edit(api);

        page.Find(".about-part input").Input("Square");
        Assert.Contains("Saving…", page.Find("[data-state]").TextContent, StringComparison.Ordinal);

        page.WaitForAssertion(
            () => Assert.Contains("Saved 10:00", page.Find("[data-state]").TextContent, StringComparison.Ordinal),
            Patience
        );
        Assert.Single(api.Asked, a => a == "PUT drills/two-turns/draft?unfinished=true");
    }

    [Fact]
    public void What_is_not_saved_says_so_and_why()
    {
        var page = Edit(Api(Square).Refuse("PUT drills/two-turns/draft", HttpStatusCode.Forbidden, "Drafting is the chief's."));

        page.Find(".about-part input").Input("Square");

        page.WaitForAssertion(
            () => Assert.Contains("Not saved: Drafting is the chief's.", page.Find("[data-state]").TextContent, StringComparison.Ordinal),
            Patience
        );
    }

    [Fact]
    public void The_draft_is_compared_with_what_is_published()
    {
        var page = Edit(Api(Square with { Title = "Square" }));

        Button(page, "Compare").Click();

        Assert.Equal(
            [
                "Title: “Two climbing turns” is now “Square”.",
                "Segment 1: 2 segments, 4 times, new.",
                "Segment 1: straight and level for 1:00 is taken out.",
            ],
            page.FindAll(".changes li").Select(l => l.TextContent)
        );
    }

    [Fact]
    public void An_example_goes_on_the_timetable_and_counts_for_the_level()
    {
        var page = Edit(Api(Square));

        Field(page, "Time of the next check or task").Input("1:30");
        Field(page, "Add Reciprocal at 1:30").Click();

        Assert.Equal("1:30", Field(page, "Time of load task 1").GetAttribute("value"));
        Assert.Equal("060", Field(page, "Expected answer of load task 1").GetAttribute("value"));
        Assert.Contains("1 calls in 6 min", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void A_broken_file_is_refused_with_the_path_to_the_place_and_changes_nothing()
    {
        var page = Edit(Api(Square));
        Button(page, "File").Click();

        page.FindComponent<InputFile>()
            .UploadFiles(
                InputFileContent.CreateFromText("""{"slug":"x","title":"T","purpose":"P","segments":[{"turn":90}]}""", "mine.json")
            );

        page.WaitForAssertion(() => Assert.NotEmpty(page.FindAll(".problem li")), Patience);
        Assert.Contains("segments[0].turn: there is no such member here.", page.Markup, StringComparison.Ordinal);
        Assert.Contains("mine.json was not read; the draft is as it was.", page.Markup, StringComparison.Ordinal);
        Assert.Equal(3, page.FindAll("[data-row]").Count);
    }
}
