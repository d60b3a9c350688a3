using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using SchoolDrills.Api.Tests;
using Xunit;

namespace SchoolDrills.Browser.Tests;

/// <summary>A small school's site on a port, without a worker: a recording waits until one is started.</summary>
public class SchoolSite : SchoolsFixture
{
    public SchoolSite() => UseKestrel(0);

    public Uri Address => ClientOptions.BaseAddress;

    /// <summary>Starts a worker beside the site, on the same database.</summary>
    public IAsyncDisposable StartWorker()
    {
        var worker = new Worker(Database);
        _ = worker.Services;
        return worker;
    }

    private sealed class Worker(TestDatabase database) : WebApplicationFactory<Program>
    {
        protected override void ConfigureWebHost(IWebHostBuilder builder)
        {
            builder.UseSetting("ConnectionStrings:SchoolDrills", database.OwnerConnectionString);
            builder.UseSetting("role", "worker");
            builder.UseSetting("SCHOOLDRILLS_METRICS", "off");
            builder.UseSetting("SCHOOLDRILLS_DEMO", "0");
        }
    }
}

[CollectionDefinition]
public sealed class AtTheSchool : ICollectionFixture<SchoolSite>;
