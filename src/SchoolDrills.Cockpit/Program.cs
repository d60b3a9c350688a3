using Microsoft.AspNetCore.Components.WebAssembly.Hosting;
using SchoolDrills.Cockpit;
using SchoolDrills.Cockpit.Flying;
using SchoolDrills.Cockpit.Storage;
using SchoolDrills.Cockpit.Sync;
using SchoolDrills.Contracts;

var builder = WebAssemblyHostBuilder.CreateDefault(args);
builder.RootComponents.Add<App>("#app");
var services = builder.Services;
services.AddSingleton(TimeProvider.System);
services.AddSingleton<DeviceTime>();
services.AddSingleton<Device>();
services.AddSingleton<DeviceStore>();
services.AddSingleton<ServerClock>();
services.AddSingleton<FlightLog>();
services.AddSingleton<SchoolWork>();
services.AddSingleton<Outbox>();
services.AddSingleton(provider =>
{
    var http = new HttpClient(provider.GetRequiredService<ServerClock>())
    {
        BaseAddress = new Uri(new Uri(builder.HostEnvironment.BaseAddress), "/"),
    };
    return new SchoolDrillsClient(http);
});
await builder.Build().RunAsync();
