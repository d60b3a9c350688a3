using System.Net;
using System.Text.Json;
using AngleSharp.Dom;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Assignments;

namespace SchoolDrills.Web.Tests.Assignments;

public sealed class AssignPageTests : PageTest
{
    private const string Both = "?student=11111111-0000-0000-0000-000000000001&drill=two-turns";

    private static SchoolApi School(params BeforeAssigning[] before) =>
        SchoolApi
            .For(Roles.Instructor)
            .Answer<IReadOnlyList<DrillSummary>>(
                "drills",
                [
                    Drill("two-turns", "Two climbing turns", 2, SegmentKind.ClimbTurn),
                    Drill("saw-tooth", "Saw-tooth", 1, SegmentKind.ClimbStraight),
                    Drill("old-box", "The old box", 3, SegmentKind.LevelTurn) with
                    {
                        State = "retired",
                    },
                    Drill("new-box", "The new box", 3, SegmentKind.LevelTurn) with
                    {
                        State = "draft",
                    },
                ]
            )
            .Answer("drills/saw-tooth", SampleSchool.Template with { Slug = "saw-tooth" })
            .Answer("drills/saw-tooth/timeline", SampleSchool.Timeline)
            .Answer("drills/saw-tooth/picture", SampleSchool.Picture)
            .Answer<IReadOnlyList<AircraftProfile>>("aircraft", Catalogue.Aircraft)
            .Answer<IReadOnlyList<BeforeAssigning>>("assignments/before", before);

    private static DrillSummary Drill(string slug, string title, int level, params SegmentKind[] kinds) =>
        new(slug, 1, title, "A purpose.", 240, 4, level, "published", "instrument-rating") { Kinds = kinds };

    private IRenderedComponent<AssignPage> Open(SchoolApi api, string query = Both) =>
        Open<AssignPage>(api, Roles.Instructor, address: "/assign" + query);

    private static IEnumerable<string?> Tiles(IRenderedComponent<AssignPage> page) =>
        page.FindAll("[data-drill]").Select(t => t.GetAttribute("data-drill"));

    private static IElement Assign(IRenderedComponent<AssignPage> page) => Button(page, "Assign", ".go");

    [Fact]
    public void Published_drills_are_offered_by_their_picture_and_no_others()
    {
        var page = Open(School(), "");
        Assert.Equal(["saw-tooth", "two-turns"], Tiles(page));
        Assert.All(page.FindAll("[data-drill]"), t => Assert.NotNull(t.QuerySelector("svg.drill")));
        // Named by what is read on it; the drawing says nothing to who does not see it.
        var tile = page.Find("[data-drill=two-turns]");
        Assert.Equal("true", tile.QuerySelector(".drawing")!.GetAttribute("aria-hidden"));
        Assert.Equal(
            ["Two climbing turns", "Level 2 · 4:00", "turns, climbs and descents"],
            tile.QuerySelectorAll(".title, .about").Select(e => e.TextContent)
        );
        // One stop of the Tab key.
        Assert.Single(page.FindAll("[data-drill][tabindex='0']"));
        Assert.Contains("Choose at least one student and a drill.", page.Find(".go").TextContent, StringComparison.Ordinal);
        Assert.True(Assign(page).HasAttribute("disabled"));
    }

    [Fact]
    public void The_search_narrows_the_list_and_enter_takes_the_first()
    {
        var page = Open(School(), "");
        page.Find("input[type=search]").Input("saw");
        Assert.Equal(["saw-tooth"], Tiles(page));
        page.Find("input[type=search]").KeyDown("Enter");
        Assert.Equal("true", page.Find("[data-drill=saw-tooth]").GetAttribute("aria-pressed"));
        page.Find("input[type=search]").Input("nothing like it");
        Assert.Contains("No drills match.", page.Markup, StringComparison.Ordinal);
        Button(page, "Show all drills").Click();
        Assert.Equal(2, Tiles(page).Count());
    }

    [Fact]
    public void The_address_brings_student_and_drill_and_what_was_before_is_asked_once()
    {
        var api = School(new BeforeAssigning(SampleSchool.StudentId, "two-turns", SampleSchool.Attempt(), SampleSchool.Assignment()));
        var page = Open(api);
        Assert.Contains("Rewi Marsh", page.Find("[aria-label='Students chosen']").TextContent, StringComparison.Ordinal);
        Assert.Contains("Two climbing turns", page.Find("[aria-label='Drills chosen, in order']").TextContent, StringComparison.Ordinal);
        var results = page.Find(".results").TextContent;
        Assert.Contains("not met", results, StringComparison.Ordinal);
        Assert.Contains("78% in tolerance", results, StringComparison.Ordinal);
        Assert.Contains("Already assigned, due Fri 6 Mar", results, StringComparison.Ordinal);
        Assert.NotNull(page.Find(".results .strip"));
        Assert.Equal("Assign, skip 1", Assign(page).TextContent);
        Assert.Single(api.Asked, $"GET assignments/before?studentIds={SampleSchool.StudentId}&drillSlugs=two-turns");
    }

    [Fact]
    public void Several_drills_go_in_one_request_and_undo_takes_back_what_was_made()
    {
        var (made, open) = (SampleSchool.Assignment(id: Guid.CreateVersion7()), SampleSchool.Assignment() with { WasOpen = true });
        var api = School().Answer<IReadOnlyList<AssignmentSummary>>("POST assignments", [made, open]).Answer("POST assignments/cancel", "");
        var page = Open(api);
        page.Find("[data-drill=saw-tooth]").Click();
        Button(page, "Tomorrow").Click();
        Assert.Equal("Assign 2 drills", Assign(page).TextContent);
        Assign(page).Click();

        var sent = JsonDocument.Parse(api.Sent["POST assignments"]).RootElement;
        Assert.Equal(["two-turns", "saw-tooth"], sent.GetProperty("drillSlugs").EnumerateArray().Select(s => s.GetString()));
        Assert.True(sent.GetProperty("unlessOpen").GetBoolean());
        Assert.Equal("2026-03-04", sent.GetProperty("dueOn").GetString());
        Assert.False(sent.TryGetProperty("overrides", out _));
        var said = page.Find("[role=status] .done").TextContent;
        Assert.Contains("Two climbing turns assigned to Rewi Marsh, due Fri 6 Mar.", said, StringComparison.Ordinal);
        Assert.Contains("Already assigned and not flown yet: Rewi Marsh", said, StringComparison.Ordinal);
        Assert.Empty(page.FindAll("[data-drill][aria-pressed=true]"));

        Button(page, "Undo").Click();
        Assert.Contains(made.Id.ToString(), api.Sent["POST assignments/cancel"], StringComparison.Ordinal);
        Assert.DoesNotContain(open.Id.ToString(), api.Sent["POST assignments/cancel"], StringComparison.Ordinal);
        Assert.Contains("Taken back", page.Find("[role=status] .done").TextContent, StringComparison.Ordinal);
        Assert.Equal(2, page.FindAll("[data-drill][aria-pressed=true]").Count);
    }

    [Fact]
    public void Entry_aeroplane_and_wind_are_sent_as_set()
    {
        var api = School().Answer<IReadOnlyList<AssignmentSummary>>("POST assignments", [SampleSchool.Assignment()]);
        var page = Open(api);
        var plane = Catalogue.Aircraft[0];
        page.Find("details select").Change(plane.Slug);
        Choice(page, "Half rate").Change(true);
        Field(page, "Speed, kt").Change("15");
        Assign(page).Click();
        Assert.Contains("or neither", page.Find("[role=alert]").TextContent, StringComparison.Ordinal);
        Assert.DoesNotContain("POST assignments", api.Sent.Keys);
        Field(page, "From, ° true").Change("290");
        Assign(page).Click();

        var set = JsonDocument.Parse(api.Sent["POST assignments"]).RootElement.GetProperty("overrides");
        Assert.Equal(
            (plane.Slug, plane.DrillAirspeedKt, true, 290.0, 15.0),
            (
                set.GetProperty("aircraft").GetString(),
                set.GetProperty("airspeedKt").GetDouble(),
                set.GetProperty("halfRate").GetBoolean(),
                set.GetProperty("windFromDegTrue").GetDouble(),
                set.GetProperty("windKt").GetDouble()
            )
        );
    }

    [Fact]
    public void A_refusal_is_said_and_the_choice_stays()
    {
        var api = School().Refuse("POST assignments", HttpStatusCode.UnprocessableEntity, "There is no published drill 'two-turns'.");
        var page = Open(api);
        Assign(page).Click();
        Assert.Contains("There is no published drill", page.Find("[role=alert]").TextContent, StringComparison.Ordinal);
        Assert.Equal("true", page.Find("[data-drill=two-turns]").GetAttribute("aria-pressed"));
    }

    private static IElement Field(IRenderedComponent<AssignPage> page, string label) =>
        page.FindAll("details label").Single(l => l.QuerySelector("span")?.TextContent == label).QuerySelector("input")!;

    private static IElement Choice(IRenderedComponent<AssignPage> page, string label) =>
        page.FindAll("label.choice").Single(l => l.TextContent.Trim().StartsWith(label, StringComparison.Ordinal)).QuerySelector("input")!;
}
