using System.Collections.Concurrent;
using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests;

/// <summary>The client against a server that fails on purpose.</summary>
public sealed class RetryTests : IAsyncLifetime
{
    private static readonly RetryPauses Short = new(TimeSpan.FromMilliseconds(5), TimeSpan.FromMilliseconds(20), TimeSpan.FromSeconds(20));

    private static readonly byte[] Track = [.. Enumerable.Range(0, 100_000).Select(i => (byte)i)];

    private readonly ConcurrentQueue<Func<HttpContext, Task>> script = new();
    private readonly ConcurrentQueue<(string Method, byte[] Body)> heard = new();
    private WebApplication server = null!;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => server = await ServeAsync("http://127.0.0.1:0");

    public ValueTask DisposeAsync() => server.DisposeAsync();

    [Theory]
    [InlineData(HttpStatusCode.TooManyRequests)]
    [InlineData(HttpStatusCode.BadGateway)]
    [InlineData(HttpStatusCode.ServiceUnavailable)]
    [InlineData(HttpStatusCode.GatewayTimeout)]
    public async Task What_is_read_is_asked_for_again_where_the_server_is_away_or_busy(HttpStatusCode status)
    {
        Answer(status);
        Answer(status);
        Answer(HttpStatusCode.OK, "[]");
        Assert.Empty(await Client().DrillsAsync(Cancel));
        Assert.Equal(3, heard.Count);
    }

    [Fact]
    public async Task An_upload_is_sent_again_with_all_its_bytes_after_an_answer_and_after_a_broken_connection()
    {
        Answer(HttpStatusCode.ServiceUnavailable);
        script.Enqueue(http =>
        {
            http.Abort();
            return Task.CompletedTask;
        });
        var id = Guid.NewGuid();
        Answer(HttpStatusCode.Accepted, $$"""{"attemptId":"{{id}}","status":"queued"}""");
        using var track = new MemoryStream(Track);
        var accepted = await Client().UploadAsync(Guid.NewGuid(), track, "flight.csv", new AttemptMeta(), Cancel);
        Assert.Equal(id, accepted.AttemptId);
        Assert.Equal(3, heard.Count);
        Assert.All(heard, request => Assert.True(request.Body.AsSpan().IndexOf(Track) > 0));
    }

    [Fact]
    public async Task A_flight_log_that_has_its_number_is_sent_again_and_an_assignment_is_not()
    {
        Answer(HttpStatusCode.BadGateway);
        Answer(HttpStatusCode.NotFound);
        var log = new PutFlightLog { SentAtUtc = DateTimeOffset.UnixEpoch };
        await Assert.ThrowsAsync<ApiProblemException>(() => Client().PutFlightLogAsync(Guid.NewGuid(), Guid.NewGuid(), log, Cancel));
        Assert.Equal(["PUT", "PUT"], heard.Select(request => request.Method));

        heard.Clear();
        Answer(HttpStatusCode.BadGateway);
        var refusal = await Assert.ThrowsAsync<ApiProblemException>(() =>
            Client().AssignAsync(new CreateAssignment([Guid.NewGuid()], "timed-turns", null), Cancel)
        );
        Assert.Equal(HttpStatusCode.BadGateway, refusal.Status);
        Assert.Equal("POST", Assert.Single(heard).Method);
    }

    [Fact]
    public async Task A_recording_that_cannot_be_read_twice_is_sent_once()
    {
        Answer(HttpStatusCode.ServiceUnavailable);
        await using var track = new OneWay(Track);
        await Assert.ThrowsAsync<ApiProblemException>(() =>
            Client().UploadAsync(Guid.NewGuid(), track, "flight.csv", new AttemptMeta(), Cancel)
        );
        Assert.Single(heard);
    }

    [Fact]
    public async Task A_refusal_of_its_own_is_told_at_once()
    {
        Answer(HttpStatusCode.InsufficientStorage, """{"detail":"The disk is full."}""");
        using var track = new MemoryStream(Track);
        var refusal = await Assert.ThrowsAsync<ApiProblemException>(() =>
            Client().UploadAsync(Guid.NewGuid(), track, "flight.csv", new AttemptMeta(), Cancel)
        );
        Assert.Equal("The disk is full.", refusal.Message);
        Assert.Single(heard);
    }

    [Fact]
    public async Task The_wait_that_the_server_asks_for_is_waited()
    {
        var asked = new List<DateTimeOffset>();
        script.Enqueue(http =>
        {
            asked.Add(DateTimeOffset.UtcNow);
            http.Response.StatusCode = StatusCodes.Status429TooManyRequests;
            http.Response.Headers.RetryAfter = "1";
            return Task.CompletedTask;
        });
        script.Enqueue(http =>
        {
            asked.Add(DateTimeOffset.UtcNow);
            return http.Response.WriteAsync("[]", Cancel);
        });
        await Client().DrillsAsync(Cancel);
        // A timer may be a few milliseconds early.
        Assert.True(asked[1] - asked[0] > TimeSpan.FromSeconds(0.9));
    }

    [Fact]
    public async Task A_wait_longer_than_one_is_patient_for_is_told_instead()
    {
        script.Enqueue(http =>
        {
            http.Response.Headers.RetryAfter = "3600";
            http.Response.StatusCode = StatusCodes.Status429TooManyRequests;
            return http.Response.WriteAsJsonAsync(new { detail = "Send the rest in an hour." }, Cancel);
        });
        var refusal = await Assert.ThrowsAsync<ApiProblemException>(() => Client().DrillsAsync(Cancel));
        Assert.Equal("Send the rest in an hour.", refusal.Message);
        Assert.Single(heard);
    }

    [Fact]
    public async Task It_ends_with_the_last_answer_where_the_server_stays_away()
    {
        for (var answers = 0; answers < 1000; answers++)
            Answer(HttpStatusCode.ServiceUnavailable, """{"detail":"The database does not answer."}""");
        var refusal = await Assert.ThrowsAsync<ApiProblemException>(() =>
            Client(Short with { InAll = TimeSpan.FromMilliseconds(200) }).DrillsAsync(Cancel)
        );
        Assert.Equal("The database does not answer.", refusal.Message);
        Assert.InRange(heard.Count, 2, 100);
    }

    [Fact]
    public async Task A_server_that_is_started_again_is_found_and_one_that_stays_away_is_told_of()
    {
        var address = server.Urls.Single();
        await server.DisposeAsync();
        await Assert.ThrowsAsync<HttpRequestException>(() =>
            Client(Short with { InAll = TimeSpan.FromMilliseconds(100) }, address).DrillsAsync(Cancel)
        );
        var waiting = Client(Short, address).DrillsAsync(Cancel);
        Answer(HttpStatusCode.OK, "[]");
        server = await ServeAsync(address);
        Assert.Empty(await waiting);
    }

    [Fact]
    public async Task Waiting_can_be_broken_off()
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        script.Enqueue(http =>
        {
            http.Response.StatusCode = StatusCodes.Status503ServiceUnavailable;
            http.Response.Headers.RetryAfter = "10";
            http.Response.OnCompleted(stop.CancelAsync);
            return Task.CompletedTask;
        });
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => Client().DrillsAsync(stop.Token));
        Assert.Single(heard);
    }

    private SchoolDrillsClient Client(RetryPauses? pauses = null, string? address = null) =>
        new(
            new HttpClient(new RetryHandler(pauses ?? Short) { InnerHandler = new SocketsHttpHandler { UseProxy = false } })
            {
                BaseAddress = new Uri(address ?? server.Urls.Single()),
            }
        );

    private void Answer(HttpStatusCode status, string json = "{}") =>
        script.Enqueue(http =>
        {
            http.Response.StatusCode = (int)status;
            http.Response.ContentType = "application/json";
            return http.Response.WriteAsync(json, Cancel);
        });

    private async Task<WebApplication> ServeAsync(string address)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls(address);
        var app = builder.Build();
        app.Run(async http =>
        {
            using var body = new MemoryStream();
            await http.Request.Body.CopyToAsync(body, Cancel);
            heard.Enqueue((http.Request.Method, body.ToArray()));
            Assert.True(script.TryDequeue(out var answer), "It was asked more often than it may be.");
            await answer(http);
        });
        await app.StartAsync(Cancel);
        return app;
    }

    private sealed class OneWay(byte[] bytes) : MemoryStream(bytes)
    {
        public override bool CanSeek => false;
    }
}
