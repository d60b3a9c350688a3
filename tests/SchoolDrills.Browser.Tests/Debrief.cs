using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>A debrief as a visitor has it open, and what its strips tell a screen reader.</summary>
internal static partial class Debrief
{
    /// <summary>Opens an attempt's debrief and waits until its plots are drawn.</summary>
    public static async Task<Visitor> OpenDebriefAsync(
        this Chromium chromium,
        SchoolSite site,
        string person,
        Guid attemptId,
        Screen? screen = null
    )
    {
        var visitor = await chromium.VisitAsync(site.Address, screen);
        await visitor.SignInAsync(SchoolsFixture.EmailOf(person), SchoolsFixture.Password);
        await visitor.GoAsync($"/attempts/{attemptId}");
        await Expect(visitor.Page.Locator(".plots[data-state=ready]")).ToBeVisibleAsync();
        return visitor;
    }

    public static ILocator Strips(Visitor visitor) => visitor.Page.GetByRole(AriaRole.Slider, new() { NameRegex = Cursor() });

    /// <summary>The second that the cursor is at.</summary>
    public static Task<double> NowAsync(ILocator slider) => NumberAsync(slider, "aria-valuenow");

    /// <summary>The seconds that the strips show.</summary>
    public static async Task<double> SpanAsync(ILocator strips) =>
        await NumberAsync(strips, "aria-valuemax") - await NumberAsync(strips, "aria-valuemin");

    private static async Task<double> NumberAsync(ILocator slider, string attribute) =>
        double.Parse((await slider.GetAttributeAsync(attribute))!, CultureInfo.InvariantCulture);

    [GeneratedRegex("^Cursor over altitude")]
    private static partial Regex Cursor();
}
