using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Npgsql;
using SchoolDrills.Api.Health;
using SchoolDrills.Api.Watching;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Watching;

/// <summary>What <c>/metrics</c> tells of a host that works, and what deploy/watching asks of it.</summary>
public sealed partial class WatchedFiguresTests(WatchedFiguresTests.Scraped app) : IClassFixture<WatchedFiguresTests.Scraped>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task What_the_alerts_and_the_dashboard_ask_for_is_told_and_names_nobody()
    {
        await app.ScoredAsync("box-circles", "f01.gpx");
        using (await (await app.HttpAsync(SchoolsFixture.Student)).GetAsync("/api/v1/school/status", Cancel)) { }
        await Assert.ThrowsAsync<ApiProblemException>(() =>
            new SchoolDrillsClient(app.Stranger()).SignInAsync(new SignIn("nobody@tussockplains.example", "wrong-by-far"), Cancel)
        );
        var asked = Directory
            .EnumerateFiles(Path.Combine(AppContext.BaseDirectory, "Watching"))
            .SelectMany(file => Names().Matches(File.ReadAllText(file)).Select(m => m.Value))
            .ToHashSet();
        Assert.Contains("schooldrills_scoring_duration_seconds_count", asked);
        var told = await ScrapeAsync();
        // The first look at the installation, and at readiness, is a matter of seconds.
        for (var tries = 0; Missing(told).Count > 0 && tries < 300; tries++)
        {
            await Task.Delay(100, Cancel);
            told = await ScrapeAsync();
        }

        Assert.Empty(Missing(told));
        Assert.Matches("""schooldrills_scoring_duration_seconds_count\{.*schooldrills_outcome="scored".*\} [1-9]""", told);
        Assert.Matches("""schooldrills_refusals_total\{.*error_type="sign-in".*http_response_status_code="401".*\} [1-9]""", told);
        Assert.DoesNotContain("example\"", told, StringComparison.Ordinal);
        Assert.DoesNotContain("Tussock", told, StringComparison.Ordinal);

        List<string> Missing(string text) =>
            [.. asked.Where(name => !Regex.IsMatch(text, $@"^{name}[{{ ]|[{{,]{name}=", RegexOptions.Multiline)).Order()];
    }

    [Fact]
    public void The_disk_of_a_private_database_is_known_and_that_of_another_is_not()
    {
        Assert.True(
            new DatabaseDisk(Configured(("SCHOOLDRILLS_DATA", Path.GetTempPath()))).Space is { FreeBytes: > 0 } space
                && space.Bytes >= space.FreeBytes
        );
        Assert.Null(new DatabaseDisk(Configured(("ConnectionStrings:SchoolDrills", "Host=elsewhere.example"))).Space);
    }

    private static IConfiguration Configured(params (string Name, string Value)[] settings) =>
        new ConfigurationBuilder().AddInMemoryCollection(settings.Select(s => new KeyValuePair<string, string?>(s.Name, s.Value))).Build();

    private async Task<string> ScrapeAsync()
    {
        var metrics = app.Services.GetServices<IHostedService>().OfType<MetricsServer>().Single();
        using var http = new HttpClient();
        return await http.GetStringAsync(new Uri($"{metrics.Address}/metrics"), Cancel);
    }

    /// <summary>Ours, and those of the parts we are made of.</summary>
    [GeneratedRegex(@"\b(?:schooldrills|http_server|dotnet|kestrel|db_client)_[a-z0-9_]+\b")]
    private static partial Regex Names();

    public sealed class Scraped : SchoolsFixture
    {
        protected override void ConfigureWebHost(IWebHostBuilder builder)
        {
            base.ConfigureWebHost(builder);
            builder.UseSetting("SCHOOLDRILLS_METRICS", "http://127.0.0.1:0");
            builder.ConfigureTestServices(services =>
                services.AddSingleton(_ => new DatabaseDisk(Configured(("SCHOOLDRILLS_DATA", Path.GetTempPath()))))
            );
        }

        protected override async Task LookBeforeStartAsync()
        {
            await using var owner = new NpgsqlConnection(Database.OwnerConnectionString);
            await owner.OpenAsync(Cancel);
            await using var note = new NpgsqlCommand("insert into setup.backups values (now(), 12345)", owner);
            await note.ExecuteNonQueryAsync(Cancel);
        }
    }
}
