using Deque.AxeCore.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;

namespace SchoolDrills.Browser.Tests;

/// <summary>A site of its own for grading and what leads to it, so that no other test's work is on its lists.</summary>
[CollectionDefinition]
public sealed class AtGrading : ICollectionFixture<SchoolSite>;

internal static class GradingSchool
{
    public static async Task<Visitor> EnterAsync(this Chromium chromium, SchoolSite site, string person, Screen? screen = null)
    {
        var visitor = await chromium.VisitAsync(site.Address, screen);
        await visitor.SignInAsync(SchoolsFixture.EmailOf(person), SchoolsFixture.Password);
        return visitor;
    }

    /// <summary>What shuts somebody out, and what is wider than the screen; empty where all is well.</summary>
    public static async Task<IReadOnlyList<string>> FlawsAsync(this Visitor visitor)
    {
        var axe = await visitor.Page.RunAxe();
        var flaws = axe.Violations.SelectMany(v => v.Nodes.Select(n => $"{v.Id}: {v.Help}: {n.Target} {n.Html}")).ToList();
        if (await visitor.Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth > document.documentElement.clientWidth"))
            flaws.Add($"{visitor.Path} is wider than its screen");
        return flaws;
    }
}
