using System.Text.RegularExpressions;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Web.Help;

namespace SchoolDrills.Web.Tests.Help;

public partial class HelpTests : PageTest
{
    [Fact]
    public void Every_link_into_help_leads_to_a_place_in_it()
    {
        var ids = Open<HelpPage>(SchoolApi.For(Roles.Student), Roles.Student).FindAll("[id]").Select(e => e.Id!).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
        var web = Path.Combine(Root(), "src", "SchoolDrills.Web");
        var linked = Directory
            .EnumerateFiles(web, "*.razor", SearchOption.AllDirectories)
            .SelectMany(f => Links().Matches(File.ReadAllText(f)).Select(m => m.Groups[1].Value + m.Groups[2].Value))
            .ToHashSet();
        Assert.Superset(new HashSet<string> { "scores", "recordings", "grading", "progress", "glossary", "keys" }, linked);
        Assert.Empty(linked.Except(ids));
    }

    [Fact]
    public void The_glossary_finds_terms_by_word_and_meaning_and_says_where_there_is_none()
    {
        var page = Open<Glossary>(SchoolApi.For(Roles.Student), Roles.Student);
        Assert.Equal(GlossaryTerm.All.Count, page.FindAll("dt").Count);
        page.Find("input").Input("called RATE 1");
        Assert.Equal("Standard rate", page.Find("dt").TextContent);
        page.Find("input").Input("zzz");
        Assert.Empty(page.FindAll("dt"));
        Assert.Contains("No term has “zzz”", page.Find("[role=status]").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void The_cautions_are_printed_with_the_help() =>
        Assert.Single(Open<HelpPage>(SchoolApi.For(Roles.Chief), Roles.Chief).FindAll(".cautions"));

    private static string Root()
    {
        var at = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(at, "SchoolDrills.sln")))
            at = Path.GetDirectoryName(at) ?? throw new InvalidOperationException("The tests run outside the repository.");
        return at;
    }

    [GeneratedRegex("/help#([a-z0-9-]+)|<HelpLink To=\"([^\"]+)\"")]
    private static partial Regex Links();
}
