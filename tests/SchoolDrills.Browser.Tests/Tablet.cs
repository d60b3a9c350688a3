using System.Diagnostics;
using System.Globalization;
using Microsoft.Playwright;

namespace SchoolDrills.Browser.Tests;

/// <summary>A tablet in the aircraft: its clock can be wrong and hurried, its network cut, its position set, its browser killed.</summary>
public sealed class Tablet : IAsyncDisposable
{
    private readonly IBrowserContext context;
    private readonly string folder;
    private ICDPSession? devtools;

    internal Tablet(IBrowserContext context, string folder)
    {
        (this.context, this.folder) = (context, folder);
        Page = context.Pages[0];
        Page.PageError += (_, error) => Faults.Add(error);
    }

    public IPage Page { get; }

    /// <summary>Errors of scripts.</summary>
    public List<string> Faults { get; } = [];

    public ILocator Button(string name) => Page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });

    /// <summary>Sets the clock before any page is opened; it runs on from there.</summary>
    public Task SetClockAsync(DateTimeOffset now) => context.Clock.InstallAsync(new() { TimeDate = now.UtcDateTime });

    public async Task<DateTimeOffset> ClockAsync() => DateTimeOffset.FromUnixTimeMilliseconds(await Page.EvaluateAsync<long>("Date.now()"));

    /// <summary>Hurries the clock on to a time; does nothing where it is past that.</summary>
    public async Task HurryToAsync(DateTimeOffset time)
    {
        if ((long)(time - await ClockAsync()).TotalMilliseconds is > 0 and var ms)
            await context.Clock.FastForwardAsync(ms);
    }

    public Task CutNetworkAsync(bool cut) => context.SetOfflineAsync(cut);

    public async Task SignInAsync(string email, string password)
    {
        await Page.GotoAsync("/sign-in?returnUrl=%2Fcockpit%2F");
        await Page.GetByLabel("Email").FillAsync(email);
        await Page.GetByLabel("Password").FillAsync(password);
        await Button("Sign in").ClickAsync();
        await Page.WaitForURLAsync("**/cockpit/");
    }

    /// <summary>Waits until the page can be opened with no network.</summary>
    public Task KeptAsync() => Page.WaitForFunctionAsync("() => navigator.serviceWorker.ready.then(kept => !!kept.active)");

    public async Task BeAtAsync(double latDeg, double lonDeg, double altitudeM)
    {
        devtools ??= await context.NewCDPSessionAsync(Page);
        await devtools.SendAsync(
            "Emulation.setGeolocationOverride",
            new()
            {
                ["latitude"] = latDeg,
                ["longitude"] = lonDeg,
                ["accuracy"] = 5,
                ["altitude"] = altitudeM,
                ["altitudeAccuracy"] = 8,
            }
        );
    }

    /// <summary>Kills the browser as a dead battery does: nothing of it gets to say goodbye.</summary>
    public async Task KillAsync()
    {
        foreach (var process in Directory.EnumerateDirectories("/proc"))
        {
            if (!int.TryParse(Path.GetFileName(process), CultureInfo.InvariantCulture, out var id))
                continue;
            try
            {
                if ((await File.ReadAllTextAsync(Path.Combine(process, "cmdline"))).Contains(folder, StringComparison.Ordinal))
                    Process.GetProcessById(id).Kill();
            }
            catch (Exception gone) when (gone is IOException or ArgumentException or InvalidOperationException)
            {
                // It has died with its parent.
            }
        }
    }

    public async ValueTask DisposeAsync()
    {
        try
        {
            await context.DisposeAsync();
        }
        catch (PlaywrightException)
        {
            // A browser that was killed may be found dead only now.
        }
    }
}
