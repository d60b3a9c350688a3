using System.Text;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;

namespace SchoolDrills.Browser.Tests;

[Collection<AtGrading>]
public sealed partial class PrintTests(SchoolSite site, Chromium chromium)
{
    [Theory]
    [InlineData(ColorScheme.Light)]
    [InlineData(ColorScheme.Dark)]
    public async Task A_debrief_prints_on_two_pages(ColorScheme scheme)
    {
        var attemptId = await site.ScoredAsync("box-circles", "f01.gpx");
        var screen = Screen.Desk with { Scheme = scheme };
        await using var instructor = await chromium.OpenDebriefAsync(site, SchoolsFixture.Instructor, attemptId, screen);
        var pdf = await instructor.Page.PdfAsync(new() { PreferCSSPageSize = true });
        Assert.Equal(2, PageObject().Count(Encoding.Latin1.GetString(pdf)));
    }

    [GeneratedRegex(@"/Type\s*/Page\b(?!s)")]
    private static partial Regex PageObject();
}
