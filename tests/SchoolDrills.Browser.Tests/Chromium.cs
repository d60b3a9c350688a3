using Microsoft.Playwright;
using SchoolDrills.Browser.Tests;
using Xunit;

[assembly: AssemblyFixture(typeof(Chromium))]

// The sites share the machine with the browser; one at a time keeps waits short.
[assembly: Xunit.v3.Parallelization(Mode = Xunit.Sdk.ParallelMode.None)]

namespace SchoolDrills.Browser.Tests;

/// <summary>The machine's own Chromium, started once; every visitor has a context of their own in it.</summary>
public sealed class Chromium : IAsyncLifetime
{
    /// <summary>How long a condition is waited for, on a machine that has other work.</summary>
    public const float PatienceMs = 60_000;

    private static readonly string[] Names = ["chromium", "chromium-browser", "google-chrome"];

    // Nothing but the site is to be reached, and the machine may run the tests as root.
    private static readonly string[] Arguments =
    [
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
    ];

    private IPlaywright playwright = null!;
    private IBrowser browser = null!;

    public async ValueTask InitializeAsync()
    {
        Assertions.SetDefaultExpectTimeout(PatienceMs);
        playwright = await Playwright.CreateAsync();
        browser = await playwright.Chromium.LaunchAsync(
            new()
            {
                ExecutablePath = Find(),
                Args = Arguments,
                Timeout = PatienceMs,
            }
        );
    }

    public async ValueTask DisposeAsync()
    {
        await browser.DisposeAsync();
        playwright.Dispose();
    }

    /// <summary>Somebody at a screen of their own.</summary>
    public async Task<Visitor> VisitAsync(Uri site, Screen? screen = null)
    {
        var (widthPx, heightPx, scheme) = screen ?? Screen.Desk;
        var context = await browser.NewContextAsync(
            new()
            {
                BaseURL = site.ToString(),
                ViewportSize = new() { Width = widthPx, Height = heightPx },
                ColorScheme = scheme,
                Locale = "en-GB",
                TimezoneId = "Pacific/Auckland",
            }
        );
        context.SetDefaultTimeout(PatienceMs);
        return new Visitor(context, await context.NewPageAsync());
    }

    /// <summary>A tablet: a browser of its own, whose things stay in a folder when it is killed.</summary>
    public async Task<Tablet> TabletAsync(Uri site, string folder, int widthPx = 1024, int heightPx = 768)
    {
        var context = await playwright.Chromium.LaunchPersistentContextAsync(
            folder,
            new()
            {
                ExecutablePath = Find(),
                Args = Arguments,
                Timeout = PatienceMs,
                BaseURL = site.ToString(),
                ViewportSize = new() { Width = widthPx, Height = heightPx },
                Locale = "en-GB",
                TimezoneId = "Pacific/Auckland",
                Permissions = ["geolocation"],
            }
        );
        context.SetDefaultTimeout(PatienceMs);
        return new Tablet(context, folder);
    }

    private static string Find()
    {
        var folders = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator);
        return Names.SelectMany(name => folders.Select(folder => Path.Combine(folder, name))).FirstOrDefault(File.Exists)
            ?? throw new InvalidOperationException(
                $"The browser tests need Chromium: install it, so that one of {string.Join(", ", Names)} is on the PATH."
            );
    }
}

/// <summary>What a visitor looks at the site with.</summary>
public sealed record Screen(int WidthPx, int HeightPx, ColorScheme Scheme)
{
    public static readonly Screen Desk = new(1440, 900, ColorScheme.Light);

    public static readonly Screen PhoneAtNight = new(360, 740, ColorScheme.Dark);
}
