using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>A person with a browser of their own; what went wrong unseen, behind the page, is kept in <see cref="Faults"/>.</summary>
public sealed class Visitor : IAsyncDisposable
{
    // The first answer is a still picture of the page; Blazor marks the elements that it has then drawn itself.
    private const string IsLive =
        "() => { const main = document.querySelector('main'); return main !== null && !main.inert && "
        + "Object.getOwnPropertySymbols(main).length > 0; }";

    private readonly IBrowserContext context;
    private readonly List<string> faults = [];

    internal Visitor(IBrowserContext context, IPage page)
    {
        this.context = context;
        Page = page;
        page.PageError += (_, error) => faults.Add(error);
        page.Response += (_, answer) =>
        {
            if (answer.Status >= 400)
                faults.Add($"{answer.Status} {answer.Url}");
        };
    }

    public IPage Page { get; }

    /// <summary>Errors of scripts, and addresses that were answered with a refusal.</summary>
    public IReadOnlyList<string> Faults => faults;

    public string Path => new Uri(Page.Url).AbsolutePath;

    public async Task SignInAsync(string email, string password)
    {
        await Page.GotoAsync("/sign-in");
        await Page.GetByLabel("Email").FillAsync(email);
        await Page.GetByLabel("Password").FillAsync(password);
        await Button("Sign in").ClickAsync();
        await SettleAsync();
    }

    /// <summary>Opens a page and waits until it can be used.</summary>
    public async Task GoAsync(string path)
    {
        await Page.GotoAsync(path);
        await SettleAsync();
    }

    /// <summary>Waits until the page answers to clicks and has fetched and drawn what it shows.</summary>
    public async Task SettleAsync()
    {
        await Page.WaitForFunctionAsync(IsLive);
        await Expect(Page.Locator("main h1").First).ToBeAttachedAsync();
        await Expect(Page.Locator(".skeleton, .plots[data-state=loading]")).ToHaveCountAsync(0);
    }

    public ILocator Button(string name) => Page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });

    public ILocator Link(string name) => Page.GetByRole(AriaRole.Link, new() { Name = name, Exact = true });

    public ILocator Heading(string name) => Page.GetByRole(AriaRole.Heading, new() { Name = name, Exact = true });

    /// <summary>The part of the page under a heading.</summary>
    public ILocator Region(string name) => Page.GetByRole(AriaRole.Region, new() { Name = name, Exact = true });

    public async ValueTask DisposeAsync() => await context.DisposeAsync();
}
