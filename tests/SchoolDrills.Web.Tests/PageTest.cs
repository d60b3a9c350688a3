using AngleSharp.Dom;
using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor.Services;
using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Tests;

/// <summary>A page under test, signed in, over the sample school.</summary>
public abstract class PageTest : BunitContext
{
    private protected IRenderedComponent<TPage> Open<TPage>(
        SchoolApi api,
        string role,
        Action<ComponentParameterCollectionBuilder<TPage>>? parameters = null,
        string? address = null
    )
        where TPage : IComponent
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddMudServices();
        Services.AddSingleton<TimeProvider>(new FixedClock(SampleSchool.Now));
        Services.AddSingleton(api.Client);
        Services.AddSingleton<AccessTokenSource>(_ => Task.FromResult("token"));
        AddBunitPersistentComponentState();
        if (address is not null)
            Services.GetRequiredService<NavigationManager>().NavigateTo(address);
        Renderer.SetRendererInfo(new RendererInfo("Server", true));
        return Render<TPage>(p =>
        {
            p.AddCascadingValue(new SignedIn(SampleSchool.Person(role), new FixedClock(SampleSchool.Now)));
            parameters?.Invoke(p);
        });
    }

    /// <summary>The button whose text begins so, within a part of the page.</summary>
    private protected static IElement Button<TPage>(IRenderedComponent<TPage> page, string text, string within = "")
        where TPage : IComponent =>
        page.FindAll($"{within} button").Single(b => b.TextContent.Trim().StartsWith(text, StringComparison.Ordinal));

    internal sealed class FixedClock(DateTimeOffset now) : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => now;
    }
}
