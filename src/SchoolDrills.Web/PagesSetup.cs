using Microsoft.AspNetCore.Diagnostics;
using MudBlazor.Services;

namespace SchoolDrills.Web;

/// <summary>Everything the host must register and map for the pages.</summary>
public static class PagesSetup
{
    /// <summary>
    /// What a page was prerendered with goes back to the server when its circuit starts; a debrief is larger than the hub's default
    /// of 32 KiB.
    /// </summary>
    private const long LargestMessageBytes = 4 * 1024 * 1024;

    public static IServiceCollection AddSchoolDrillsPages(this IServiceCollection services)
    {
        services
            .AddRazorComponents()
            .AddInteractiveServerComponents()
            .AddHubOptions(hub => hub.MaximumReceiveMessageSize = LargestMessageBytes);
        services.AddCascadingAuthenticationState();
        services.AddAntiforgery(antiforgery =>
        {
            antiforgery.Cookie.Name = "schooldrills-form";
            antiforgery.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            // The policy of SecurityHeaders says the same, and more strictly.
            antiforgery.SuppressXFrameOptionsHeader = true;
        });
        services.AddHsts(hsts => hsts.MaxAge = TimeSpan.FromDays(365));
        services.AddMudServices(mud => mud.SnackbarConfiguration.PositionClass = MudBlazor.Defaults.Classes.Position.BottomCenter);
        services.TryAddClock();
        return services;
    }

    /// <summary>To be called after authentication and authorisation are in the pipeline.</summary>
    public static void MapSchoolDrillsPages(this WebApplication app)
    {
        // An address that is nobody's gets a page that says so; the API answers for its own.
        app.UseStatusCodePagesWithReExecute("/not-found", createScopeForStatusCodePages: true);
        app.Use(
            (http, next) =>
            {
                var isPage = HttpMethods.IsGet(http.Request.Method) && !http.Request.Path.StartsWithSegments("/api");
                if (!isPage && http.Features.Get<IStatusCodePagesFeature>() is { } statusPages)
                    statusPages.Enabled = false;
                return next(http);
            }
        );
        app.UseAntiforgery();
        app.MapStaticAssets();
        // Every address of the cockpit page is its one file, which looks at the rest itself.
        app.MapFallbackToFile("/cockpit/{*path:nonfile}", "cockpit/index.html");
        // A page answers any POST to its address as well; the sign-in form's own endpoint at the same address goes first.
        app.MapRazorComponents<App>()
            .AddInteractiveServerRenderMode(server => server.ContentSecurityFrameAncestorsPolicy = null)
            .Add(page =>
            {
                if (page is RouteEndpointBuilder { RoutePattern.RawText: "/sign-in" or "/sign-in/step" } signIn)
                    signIn.Order = 1;
            });
    }

    private static void TryAddClock(this IServiceCollection services)
    {
        if (services.All(s => s.ServiceType != typeof(TimeProvider)))
            services.AddSingleton(TimeProvider.System);
    }
}
