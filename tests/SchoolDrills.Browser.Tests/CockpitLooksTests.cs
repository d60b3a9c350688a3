using Deque.AxeCore.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>The cockpit page's screens, upright and sideways, by day, in the sun and at night.</summary>
public sealed class CockpitLooksTests(SchoolSite site, Chromium chromium) : IClassFixture<SchoolSite>
{
    private static readonly (int WidthPx, int HeightPx)[] Screens = [(360, 640), (844, 390), (1024, 768)];

    private readonly List<string> faults = [];

    [Fact]
    public async Task No_screen_shuts_anybody_out_or_is_wider_than_the_tablet()
    {
        await site.AssignAsync("box-circles");
        var folder = Directory.CreateTempSubdirectory("tablet-").FullName;
        await using var tablet = await chromium.TabletAsync(site.Address, folder);
        await tablet.SetClockAsync(DateTimeOffset.UtcNow);
        await tablet.SignInAsync(SchoolsFixture.EmailOf(SchoolsFixture.Instructor), SchoolsFixture.Password);
        await Expect(tablet.Page.Locator(".drill")).ToHaveCountAsync(1);
        await LookAsync(tablet, "choose");
        await tablet.Page.Locator(".drill").ClickAsync();
        await Expect(tablet.Button("Start now")).ToBeVisibleAsync();
        await LookAsync(tablet, "ready");
        await tablet.Button("Start now").ClickAsync();
        await Expect(tablet.Button("Traffic")).ToBeVisibleAsync();

        // Where a check is late and another due.
        await tablet.HurryToAsync(await tablet.ClockAsync() + TimeSpan.FromSeconds(375));
        await Expect(tablet.Page.Locator(".due .item")).ToHaveCountAsync(2);
        await LookAsync(tablet, "fly");
        foreach (var sheet in new[] { "Relief", "Note", "Stop" })
        {
            await tablet.Button(sheet).ClickAsync();
            await LookAsync(tablet, sheet);
            if (sheet != "Stop")
                await tablet.Button("Back").ClickAsync();
        }

        await tablet.Button("Drill complete").ClickAsync();
        await Expect(tablet.Button("End flight")).ToBeVisibleAsync();
        await LookAsync(tablet, "over");
        await tablet.Button("End flight").ClickAsync();
        await Expect(tablet.Page.Locator(".drill-result")).ToBeVisibleAsync();
        await LookAsync(tablet, "landed");
        Assert.True(faults.Count == 0, string.Join(Environment.NewLine, faults));
        Assert.Empty(tablet.Faults);
    }

    private async Task LookAsync(Tablet tablet, string screen)
    {
        foreach (var (widthPx, heightPx) in Screens)
        {
            await tablet.Page.SetViewportSizeAsync(widthPx, heightPx);
            var wide = await tablet.Page.EvaluateAsync<int>("document.documentElement.scrollWidth");
            if (wide > widthPx)
                faults.Add($"{screen}, {widthPx} px: {wide} px wide");
        }

        foreach (var look in new[] { "day", "sun", "night" })
        {
            await tablet.Page.EvaluateAsync("look => (document.documentElement.dataset.look = look)", look);
            var axe = await tablet.Page.RunAxe();
            faults.AddRange(
                axe.Violations.SelectMany(v => v.Nodes.Select(n => $"{screen}, {look}: {v.Id}, {v.Help}: {n.Target} {n.Html}"))
            );
        }
    }
}
