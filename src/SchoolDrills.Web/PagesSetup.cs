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
        services.AddRazorComponents().AddInteractiveServerComponents()
            .AddHubOptions(hub => hub.MaximumReceiveMessageSize = LargestMessageBytes);
        services.AddCascadingAuthenticationState();
        services.AddMudServices(mud => mud.SnackbarConfiguration.PositionClass = MudBlazor.Defaults.Classes.Position.BottomCenter);
        services.TryAddClock();
        return services;
    }

    public static void MapSchoolDrillsPages(this WebApplication app)
    {
        app.MapStaticAssets();
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode();
    }

    private static void TryAddClock(this IServiceCollection services)
    {
        if (services.All(s => s.ServiceType != typeof(TimeProvider))) services.AddSingleton(TimeProvider.System);
    }
}
