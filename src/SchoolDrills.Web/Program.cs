using SchoolDrills.Api;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Operators;
using SchoolDrills.Api.Rescoring;
using SchoolDrills.Api.Setup;
using SchoolDrills.Web;

try
{
    var builder = WebApplication.CreateBuilder(args);
    var role = HostRoles.Read(builder.Configuration);
    if (string.IsNullOrEmpty(builder.Configuration[WebHostDefaults.ServerUrlsKey]))
        builder.WebHost.UseUrls($"http://127.0.0.1:{builder.Configuration["SCHOOLDRILLS_PORT"] ?? "5080"}");
    if (args is [NewSchoolCommand.Name, ..])
    {
        await NewSchoolCommand.RunAsync(
            builder.Configuration,
            builder.Configuration["SCHOOLDRILLS_PUBLIC_URL"] ?? builder.Configuration[WebHostDefaults.ServerUrlsKey]!.Split(';')[0]
        );
        return 0;
    }

    if (args is [RescoreCommand.Name, ..])
    {
        await RescoreCommand.RunAsync(builder.Configuration, args is [_, var school, ..] && !school.StartsWith('-') ? school : null);
        return 0;
    }

    if (await OperatorCommands.TryRunAsync(args, builder.Configuration, Console.Out) is { } code)
        return code;

    // The demo school has known passwords: never by itself where others can reach it.
    builder.Configuration["SCHOOLDRILLS_DEMO"] ??= ServesLoopbackOnly(builder.Configuration) ? "1" : "0";

    // Declared first, so that it ends last: requests and jobs drain before the private server stops.
    await using var database = await DatabaseHost.StartAsync(builder.Configuration);
    builder.TrustProxyAsConfigured();
    builder.WebHost.ConfigureKestrel(kestrel =>
    {
        kestrel.AddServerHeader = false;
        // Uploads of recordings have a limit of their own; nothing else is large.
        kestrel.Limits.MaxRequestBodySize = 8 << 20;
    });
    builder.AddSchoolDrillsApi(database, role);
    builder.Services.AddSchoolDrillsPages();
    builder.Services.AddCompression();

    await using var app = builder.Build();
    if (!string.IsNullOrEmpty(app.Configuration["SCHOOLDRILLS_PROXY"]))
        app.UseForwardedHeaders();
    app.UseResponseCompression();
    if (!app.Environment.IsDevelopment())
        app.UseHsts();
    app.UseSecurityHeaders();
    app.UseHostCookies();
    app.MapSchoolDrillsApi();
    if (role != HostRole.Worker)
        app.MapSchoolDrillsPages();

    app.Lifetime.ApplicationStarted.Register(() => Console.WriteLine($"SchoolDrills is ready at {string.Join(", ", app.Urls)}"));
    await app.StartAsync();
    var watch = database.WatchAsync();
    if (await Task.WhenAny(app.WaitForShutdownAsync(), watch) != watch || await watch is not { } lost)
        return 0;
    // A supervisor starts the host again, and with it the database.
    Console.Error.WriteLine(lost);
    return 1;
}
catch (StartupRefusedException e)
{
    Console.Error.WriteLine(e.Message);
    return 1;
}
catch (IOException e) when (e.InnerException is Microsoft.AspNetCore.Connections.AddressInUseException)
{
    Console.Error.WriteLine($"{e.Message.TrimEnd('.')}: set SCHOOLDRILLS_PORT to another port, or stop what uses this one.");
    return 1;
}

static bool ServesLoopbackOnly(IConfiguration configuration) =>
    (configuration[WebHostDefaults.ServerUrlsKey] ?? "")
        .Split(';')
        .All(url => Uri.TryCreate(url, UriKind.Absolute, out var address) && address.IsLoopback);
