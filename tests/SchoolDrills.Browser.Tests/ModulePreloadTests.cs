using System.Collections.Concurrent;
using Microsoft.AspNetCore.Hosting;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>Scripts as they are served to schools: in development they carry no integrity, which browsers hold preloads against.</summary>
public sealed class ModulePreloadTests(ModulePreloadTests.ServedSite site, Chromium chromium) : IClassFixture<ModulePreloadTests.ServedSite>
{
    [Fact]
    public async Task Each_module_of_the_plots_is_fetched_once_and_the_browser_warns_of_nothing()
    {
        var attemptId = await site.ScoredAsync("timed-turns", "f13.gpx");
        await using var visitor = await chromium.VisitAsync(site.Address);
        await visitor.SignInAsync(SchoolsFixture.EmailOf(SchoolsFixture.Instructor), SchoolsFixture.Password);
        var (fetched, warnings) = (new ConcurrentBag<string>(), new ConcurrentBag<string>());
        visitor.Page.Request += (_, request) => fetched.Add(new Uri(request.Url).AbsolutePath);
        visitor.Page.Console += (_, message) =>
        {
            if (message.Type is "warning" or "error")
                warnings.Add(message.Text);
        };
        await visitor.GoAsync($"/attempts/{attemptId}");
        await Expect(visitor.Page.Locator(".plots[data-state=ready]")).ToBeVisibleAsync();

        var modules = fetched.Where(path => path.StartsWith("/js/charts", StringComparison.Ordinal)).Order().ToList();
        Assert.InRange(modules.Count, 15, 40);
        Assert.Equal(modules.Distinct(), modules);
        Assert.Empty(warnings);
    }

    public sealed class ServedSite : SchoolSite
    {
        protected override void ConfigureWebHost(IWebHostBuilder builder)
        {
            base.ConfigureWebHost(builder);
            builder.UseSetting("ReloadStaticAssetsAtRuntime", "false");
        }
    }
}
