using System.Globalization;
using System.Text.Json;
using Microsoft.Playwright;

namespace SchoolDrills.Benchmarks;

/// <summary>
/// What a page costs who opens it: seconds until it answers to clicks with everything drawn, bytes sent to the browser, and how far things
/// move while it loads (cumulative layout shift, as the Layout Instability specification of the W3C's community group has it). First with
/// an empty cache, then once more. Messages over the socket are counted by themselves, before they are compressed: the browser does not
/// tell what they are after. Two lines of a run are comparable; those of two machines are not.
/// </summary>
internal static class PageBenchmarks
{
    private const string Password = "drills-demo";

    /// <summary>Seconds since the page was asked for, once Blazor answers and nothing is being fetched; and the shifts in all.</summary>
    public const string Watch = """
        (() => {
          window.seen = { liveS: null, shift: 0 };
          new PerformanceObserver(list => {
            for (const entry of list.getEntries()) if (!entry.hadRecentInput) window.seen.shift += entry.value;
          }).observe({ type: 'layout-shift', buffered: true });
          const look = setInterval(() => {
            const main = document.querySelector('main');
            if (!main || main.inert || Object.getOwnPropertySymbols(main).length === 0) return;
            if (document.querySelector('.skeleton, .plots[data-state=loading], .overlay[data-state=loading]')) return;
            window.seen.liveS = performance.now() / 1000;
            clearInterval(look);
          }, 10);
        })();
        """;

    private static readonly (string Person, string[] Paths)[] People =
    [
        ("student", ["/", "/drills/box-circles", "/progress", "/upload", "/notices", "{attempt}"]),
        ("instructor", ["/", "/students", "/assign", "/catalogue", "{student}", "{attempt}"]),
        ("chief", ["/", "/people", "/school", "/school/grading", "/audit"]),
    ];

    public static async Task RunAsync(Uri site)
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(
            new() { ExecutablePath = Environment.GetEnvironmentVariable("CHROMIUM") ?? "/usr/bin/chromium", Args = ["--no-sandbox"] }
        );
        Console.WriteLine("| person | page | s, empty cache | s, again | kB, empty cache | kB, again | kB of messages | layout shift |");
        Console.WriteLine("|---|---|---|---|---|---|---|---|");
        foreach (var (person, paths) in People)
        {
            var state = await SignInAsync(browser, site, person);
            foreach (var path in paths)
            {
                var told = await AddressAsync(browser, site, state, path);
                // Once unmeasured: a warm server is what people meet.
                await OpenAsync(browser, site, state, told, times: 1);
                var opened = await OpenAsync(browser, site, state, told, times: 2);
                Console.WriteLine(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"| {person} | {path} | {opened[0].LiveS:0.00} | {opened[1].LiveS:0.00} | {opened[0].Bytes / 1000.0:0} | "
                            + $"{opened[1].Bytes / 1000.0:0} | {opened[1].Messages / 1000.0:0} | {opened.Max(o => o.Shift):0.000} |"
                    )
                );
            }
        }
    }

    public static async Task<string> SignInAsync(IBrowser browser, Uri site, string person)
    {
        await using var context = await browser.NewContextAsync(new() { BaseURL = site.ToString() });
        var page = await context.NewPageAsync();
        await page.GotoAsync("/sign-in");
        await page.GetByLabel("Email").FillAsync($"{person}@tussockplains.example");
        await page.GetByLabel("Password", new() { Exact = true }).FillAsync(Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await page.WaitForURLAsync(url => new Uri(url).AbsolutePath == "/");
        return await context.StorageStateAsync();
    }

    /// <summary>The page itself, or of an attempt or a student the first that the API lists.</summary>
    public static async Task<string> AddressAsync(IBrowser browser, Uri site, string state, string path)
    {
        if (!path.StartsWith('{'))
            return path;
        await using var context = await browser.NewContextAsync(new() { BaseURL = site.ToString(), StorageState = state });
        var answer = await context.APIRequest.GetAsync(
            path == "{attempt}" ? "/api/v1/attempts?status=scored" : "/api/v1/students?mine=false"
        );
        using var list = JsonDocument.Parse(await answer.BodyAsync());
        var first = list.RootElement.GetProperty("items")[0];
        return path == "{attempt}" ? $"/attempts/{first.GetProperty("attemptId")}" : $"/students/{first.GetProperty("studentId")}";
    }

    private static async Task<List<(double LiveS, long Bytes, long Messages, double Shift)>> OpenAsync(
        IBrowser browser,
        Uri site,
        string state,
        string path,
        int times
    )
    {
        await using var context = await browser.NewContextAsync(
            new()
            {
                BaseURL = site.ToString(),
                StorageState = state,
                ViewportSize = new() { Width = 1440, Height = 900 },
            }
        );
        await context.AddInitScriptAsync(Watch);
        var page = await context.NewPageAsync();
        var devtools = await context.NewCDPSessionAsync(page);
        await devtools.SendAsync("Network.enable");
        long bytes = 0,
            messages = 0;
        devtools.Event("Network.loadingFinished").OnEvent += (_, e) => bytes += (long)e!.Value.GetProperty("encodedDataLength").GetDouble();
        devtools.Event("Network.webSocketFrameReceived").OnEvent += (_, e) =>
            messages += e!.Value.GetProperty("response").GetProperty("payloadData").GetString()!.Length * 3 / 4;
        List<(double, long, long, double)> opened = [];
        for (var time = 0; time < times; time++)
        {
            bytes = messages = 0;
            await page.GotoAsync(path);
            await page.WaitForFunctionAsync("() => window.seen.liveS !== null");
            await page.WaitForTimeoutAsync(300);
            var seen = await page.EvaluateAsync<JsonElement>("() => window.seen");
            opened.Add((seen.GetProperty("liveS").GetDouble(), bytes, messages, seen.GetProperty("shift").GetDouble()));
            // Elsewhere, so that the next time is a visit and not a reload.
            await page.GotoAsync("about:blank");
        }

        return opened;
    }
}
