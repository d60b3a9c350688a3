using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace SchoolDrills.Benchmarks;

/// <summary>
/// What an open debrief page holds in a host's memory: pages are opened one after the other and stay, then all are closed.
/// </summary>
internal static partial class CircuitBenchmarks
{
    private const int Each = 10;

    /// <summary>In a browser so many pages share a process.</summary>
    private const int Renderers = 6;

    /// <param name="site">Where the demo school is served.</param>
    /// <param name="hostProcessId">The process that serves it, on this machine.</param>
    /// <param name="pages">How many are open in the end.</param>
    public static async Task RunAsync(Uri site, int hostProcessId, int pages)
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(
            new()
            {
                ExecutablePath = Environment.GetEnvironmentVariable("CHROMIUM") ?? "/usr/bin/chromium",
                Args = ["--no-sandbox", $"--renderer-process-limit={Renderers}"],
            }
        );
        var state = await PageBenchmarks.SignInAsync(browser, site, "instructor");
        var attempt = await PageBenchmarks.AddressAsync(browser, site, state, "{attempt}");
        await using var context = await browser.NewContextAsync(new() { BaseURL = site.ToString(), StorageState = state });
        await context.AddInitScriptAsync(PageBenchmarks.Watch);
        // A host is larger once it has drawn a page than before, whoever looks.
        await (await OpenAsync(context, attempt)).CloseAsync();
        var before = Resident(hostProcessId);
        Console.WriteLine("| open pages | s for the last | host's memory, MB | MB a page |");
        Console.WriteLine("| --- | --- | --- | --- |");
        Print(0, 0, before, before);
        var open = new List<IPage>();
        while (open.Count < pages)
        {
            var start = Stopwatch.GetTimestamp();
            open.Add(await OpenAsync(context, attempt));
            if (open.Count % Each == 0)
                Print(open.Count, Stopwatch.GetElapsedTime(start).TotalSeconds, Resident(hostProcessId), before);
        }

        // Each still answers: its own first segment is chosen by the keyboard.
        var answer = Stopwatch.GetTimestamp();
        foreach (var page in open)
            await page.EvaluateAsync("() => Blazor.navigateTo(location.pathname + '?segment=2')");
        foreach (var page in open)
            await page.WaitForURLAsync(url => url.Contains("segment=2", StringComparison.Ordinal));
        Console.WriteLine($"\nA step on each of them: {Stopwatch.GetElapsedTime(answer).TotalSeconds:0.0} s in all.");
        foreach (var page in open)
            await page.CloseAsync();
        await Task.Delay(TimeSpan.FromMinutes(1));
        Console.WriteLine(
            string.Create(CultureInfo.InvariantCulture, $"A minute after all were closed: {Resident(hostProcessId) / 1e6:0} MB.")
        );
    }

    private static async Task<IPage> OpenAsync(IBrowserContext context, string address)
    {
        var page = await context.NewPageAsync();
        await page.GotoAsync(address);
        await page.WaitForFunctionAsync("() => window.seen.liveS !== null");
        return page;
    }

    private static void Print(int open, double lastS, long bytes, long before) =>
        Console.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"| {open} | {lastS:0.0} | {bytes / 1e6:0} | {(bytes - before) / 1e6 / Math.Max(1, open):0.0} |"
            )
        );

    /// <summary>Bytes of a process's memory that is in use, as Linux tells.</summary>
    private static long Resident(int processId) =>
        long.Parse(Kilobytes().Match(File.ReadAllText($"/proc/{processId}/status")).Groups[1].Value, CultureInfo.InvariantCulture) * 1024;

    [GeneratedRegex(@"VmRSS:\s+(\d+) kB")]
    private static partial Regex Kilobytes();
}
