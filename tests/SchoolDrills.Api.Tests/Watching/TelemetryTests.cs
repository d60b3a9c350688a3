using System.Net;
using Microsoft.AspNetCore.Hosting;
using Npgsql;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Watching;

/// <summary>What leaves the host over OTLP, as a collector gets it.</summary>
public sealed class TelemetryTests(TelemetryTests.Collected app) : IClassFixture<TelemetryTests.Collected>
{
    private const byte Link = (13 << 3) | 2;

    private const string Secret = "hidden-in-a-link-4711";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task An_uploads_number_leads_to_the_spans_and_the_log_of_its_score_and_nothing_private_is_sent()
    {
        var assignment = await app.AssignAsync("box-circles");
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        await using var track = SchoolsFixture.Recording("f01.gpx");
        using var form = new MultipartFormDataContent { { new StreamContent(track), "track", "f01.gpx" } };
        using var accepted = await http.PostAsync($"/api/v1/assignments/{assignment.Id}/attempts", form, Cancel);
        Assert.Equal(HttpStatusCode.Accepted, accepted.StatusCode);
        var number = Assert.Single(accepted.Headers.GetValues("X-Request-Id"));
        Assert.Matches("^[0-9a-f]{32}$", number);

        // Kept with the attempt in the database: a worker that starts only tomorrow finds it.
        var parent = await ParentOfScoreAsync(number);
        var link = LinkTo(parent);

        await WaitAsync(() => app.Collector.HasAfter("traces", Link, link), "the score's span with its link to the upload");
        await WaitAsync(() => app.Collector.Has("traces", "score recording"), "the score's name");
        await WaitAsync(() => app.Collector.Has("logs", Convert.FromHexString(number)), "a line of the log with the number");
        await WaitAsync(() => app.Collector.Has("logs", "A recording ended as"), "the score's line of the log");
        await WaitAsync(() => app.Collector.Has("metrics", "schooldrills.scoring.duration"), "our figures");
        await WaitAsync(() => app.Collector.Has("traces", "/api/v1/assignments/{id:guid}/attempts"), "the upload's route");

        using (await http.GetAsync($"/api/v1/search?q={Secret}", Cancel)) { }
        using (await http.GetAsync($"/welcome?token={Secret}", Cancel)) { }
        using (await http.GetAsync($"/first-run?token={Secret}", Cancel)) { }
        using var stranger = app.Stranger();
        stranger.DefaultRequestHeaders.Add("User-Agent", $"Mozilla/5.0 {Secret}");
        var client = new SchoolDrillsClient(stranger);
        await Assert.ThrowsAsync<ApiProblemException>(() =>
            client.SignInAsync(new SignIn(SchoolsFixture.EmailOf("nobody"), Secret), Cancel)
        );
        await Assert.ThrowsAsync<ApiProblemException>(() =>
            client.AcceptLinkAsync(new AcceptLink(Secret, SchoolsFixture.Password), Cancel)
        );
        await WaitAsync(() => app.Collector.Has("traces", "/api/v1/links/accept"), "the last of these requests");
        foreach (
            var secret in (string[])
                [Secret, SchoolsFixture.Password, "@tussockplains.example", "Tussock Plains", "The student", "Bearer", "f01.gpx", "Mozilla"]
        )
        {
            Assert.False(app.Collector.HasAnywhere(secret), $"'{secret}' was sent.");
        }
    }

    /// <summary>
    /// A link as OTLP's protocol buffers have it: its tag (field 13 of a span) and length, then the trace's number and the span's. The
    /// span itself begins with the same two, under another tag. https://github.com/open-telemetry/opentelemetry-proto, trace.proto.
    /// </summary>
    private static byte[] LinkTo(string traceParent)
    {
        var parts = traceParent.Split('-');
        return [0x0A, 16, .. Convert.FromHexString(parts[1]), 0x12, 8, .. Convert.FromHexString(parts[2])];
    }

    private async Task<string> ParentOfScoreAsync(string number)
    {
        await using var connection = new NpgsqlConnection(app.Database.OwnerConnectionString);
        await connection.OpenAsync(Cancel);
        await using var command = new NpgsqlCommand(
            "select trace_parent from attempts where trace_parent like '%' || $1 || '%'",
            connection
        )
        {
            Parameters = { new() { Value = number } },
        };
        return (string)(await command.ExecuteScalarAsync(Cancel))!;
    }

    private static async Task WaitAsync(Func<bool> isThere, string what)
    {
        for (var tries = 0; !isThere(); tries++)
        {
            Assert.True(tries < 600, $"The collector did not get {what}.");
            await Task.Delay(100, Cancel);
        }
    }

    public sealed class Collected : SchoolsFixture
    {
        internal Collector Collector { get; private set; } = null!;

        protected override bool RunsJobs => true;

        public override async ValueTask InitializeAsync()
        {
            Collector = await Collector.StartAsync();
            await base.InitializeAsync();
        }

        public override async ValueTask DisposeAsync()
        {
            await base.DisposeAsync();
            await Collector.DisposeAsync();
            GC.SuppressFinalize(this);
        }

        protected override void ConfigureWebHost(IWebHostBuilder builder)
        {
            base.ConfigureWebHost(builder);
            builder.UseSetting("OTEL_EXPORTER_OTLP_ENDPOINT", Collector.Address);
            builder.UseSetting("OTEL_EXPORTER_OTLP_PROTOCOL", "http/protobuf");
            builder.UseSetting("OTEL_BSP_SCHEDULE_DELAY", "100");
            builder.UseSetting("OTEL_BLRP_SCHEDULE_DELAY", "100");
            builder.UseSetting("OTEL_METRIC_EXPORT_INTERVAL", "500");
        }
    }
}
