using System.Net;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Standards;

namespace SchoolDrills.Web.Tests.Standards;

public sealed class StandardPagesTests : PageTest
{
    private static readonly ToleranceStandard First = SampleSchool.Standard;

    private static readonly ToleranceStandard Second = First with
    {
        Slug = First.Slug + "-2",
        Supersedes = First.Slug,
        PromptCorrectionS = 5,
    };

    private static readonly IReadOnlyList<StandardEdition> Editions =
    [
        new(First, First.Slug, 1, Second.Slug, null, [new DrillUse("two-turns", 1, "Two climbing turns")], 3, 12),
        new(Second, First.Slug, 2, null, null, [], 0, 0),
    ];

    private static SchoolApi Api(string role) => SchoolApi.For(role).Answer("standards/editions", Editions);

    [Fact]
    public void The_list_says_what_is_in_use_and_only_the_chief_adds()
    {
        var page = Open<StandardsPage>(Api(Roles.Instructor), Roles.Instructor);
        Assert.Contains("1 drill, 3 open assignments, 12 attempts", page.Markup, StringComparison.Ordinal);
        Assert.Contains("edition 1, superseded", page.Markup, StringComparison.Ordinal);
        Assert.Empty(page.FindAll("a[href='/standards/new']"));
    }

    [Fact]
    public void A_standard_shows_how_it_judges_what_changed_and_moves_drills_on_after_a_tick()
    {
        var api = Api(Roles.Chief).Answer<IReadOnlyList<DrillSummary>>($"standards/{Second.Slug}/use", []);
        var page = Open<StandardPage>(api, Roles.Chief, p => p.Add(x => x.Slug, Second.Slug));
        Assert.Equal(3, page.FindAll("figure svg[role=img]").Count);
        Assert.Contains("Prompt correction: within 5 s instead of", page.Find("section[aria-labelledby=changes]").TextContent);
        Assert.True(Button(page, "Use in").HasAttribute("disabled"));
        page.Find("section[aria-labelledby=use] input").Change(true);
        Button(page, "Use in 1 drill").Click();
        page.WaitForAssertion(() => Assert.Contains("two-turns", api.Sent[$"POST standards/{Second.Slug}/use"], StringComparison.Ordinal));
    }

    [Fact]
    public void Who_reads_only_finds_nothing_to_press()
    {
        var page = Open<StandardPage>(Api(Roles.Instructor), Roles.Instructor, p => p.Add(x => x.Slug, First.Slug));
        Assert.Empty(page.FindAll(".head .actions"));
        Assert.Empty(page.FindAll("section[aria-labelledby=use]"));
        Assert.Contains("What the next edition changes", page.Find("#next").TextContent);
    }

    [Fact]
    public void A_standard_that_is_not_there_says_so()
    {
        var page = Open<StandardPage>(Api(Roles.Student), Roles.Student, p => p.Add(x => x.Slug, "none"));
        Assert.Contains("There is no such standard", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void The_editor_says_what_is_wrong_beside_the_field_once_it_was_sent()
    {
        var page = Open<StandardEditorPage>(Api(Roles.Chief), Roles.Chief);
        Assert.Empty(page.FindAll(".field-note"));
        Button(page, "Add the standard").Click();
        Assert.Equal("A standard needs a title.", page.Find("#note-title").TextContent);
        Assert.Equal("The altitude tolerance must be above 0.", page.Find("#note-tolerances-0-within").TextContent);
        page.Find("input[aria-describedby=note-title]").Input("Our early stage");
        Assert.Equal("our-early-stage", page.Find("input[aria-describedby=note-slug]").GetAttribute("value"));
        Assert.Empty(page.FindAll("#note-title"));
    }

    [Fact]
    public void A_next_edition_begins_as_the_one_before_tells_the_difference_and_is_sent_as_its_successor()
    {
        var api = Api(Roles.Chief).Answer("standards", Second);
        var page = Open<StandardEditorPage>(api, Roles.Chief, address: $"/standards/new?from={Second.Slug}&edition=true");
        Assert.Contains("Both judge alike", page.Find("section[aria-labelledby=changes]").TextContent);
        page.Find("input[aria-describedby='note-tolerances-0-within']").Input("80");
        Assert.Contains("±80 ft instead of", page.Find("section[aria-labelledby=changes]").TextContent);
        Button(page, "Add this edition").Click();
        page.WaitForAssertion(() =>
        {
            var sent = api.Sent["POST standards"];
            Assert.Contains($"\"supersedes\":\"{Second.Slug}\"", sent, StringComparison.Ordinal);
            Assert.Contains($"\"slug\":\"{First.Slug}-3\"", sent, StringComparison.Ordinal);
        });
    }

    [Fact]
    public void A_refusal_of_the_server_stands_beside_the_button_and_the_work_stays()
    {
        var api = Api(Roles.Chief).Refuse("standards", HttpStatusCode.Conflict, "It has a next edition already.");
        var page = Open<StandardEditorPage>(api, Roles.Chief, address: $"/standards/new?from={First.Slug}");
        Button(page, "Add the standard").Click();
        page.WaitForAssertion(() => Assert.Contains("It has a next edition already.", page.Find(".problem").TextContent));
        Assert.NotEmpty(page.FindAll("fieldset.tolerance"));
    }
}
