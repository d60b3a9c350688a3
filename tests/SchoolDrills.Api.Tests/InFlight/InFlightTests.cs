using System.Net;
using System.Net.Http.Headers;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.InFlight;

public sealed class InFlightTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task An_event_sent_twice_is_one_and_the_later_telling_counts()
    {
        var attemptId = await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, "f13.csv");
        var eventId = Guid.CreateVersion7();
        await PutAsync(
            $"attempts/{attemptId}/events/{eventId}",
            """{"kind": "check", "atUtc": "2026-01-17T17:31:00Z", "detail": "Cruise flow"}"""
        );
        await PutAsync(
            $"attempts/{attemptId}/events/{eventId}",
            """{"kind": "check", "atUtc": "2026-01-18T06:31:05+13:00", "detail": "Cruise flow"}"""
        );
        var kept = Assert.Single((await DetailAsync(attemptId)).Events);
        Assert.Equal(new AttemptEvent(eventId, "check", new DateTimeOffset(2026, 1, 17, 17, 31, 5, TimeSpan.Zero), "Cruise flow"), kept);
    }

    [Fact]
    public async Task An_attempt_takes_five_hundred_events_and_then_changes_of_those()
    {
        var assignment = await app.AssignAsync("timed-turns");
        var events = Enumerable
            .Range(0, 501)
            .Select(i => new AttemptEvent(Guid.CreateVersion7(), "check", new DateTimeOffset(2026, 1, 17, 17, 31, i % 60, TimeSpan.Zero)))
            .ToList();
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => app.UploadAsync(assignment.Id, "f13.csv", new AttemptMeta { Events = events })
        );
        var attemptId = await app.UploadAsync(assignment.Id, "f13.csv", new AttemptMeta { Events = events[..500] });

        const string Told = """{"kind": "relief", "atUtc": "2026-01-17T17:31:00Z"}""";
        await PutAsync($"attempts/{attemptId}/events/{events[7].Id}", Told);
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        using var body = new StringContent(Told, new MediaTypeHeaderValue("application/json"));
        using var further = await http.PutAsync($"/api/v1/attempts/{attemptId}/events/{events[500].Id}", body, Cancel);
        await further.ProblemAsync(HttpStatusCode.UnprocessableEntity);
        Assert.Equal(500, (await DetailAsync(attemptId)).Events.Count);
    }

    [Fact]
    public async Task Load_ratings_stand_in_the_order_asked()
    {
        var attemptId = await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, "f13.csv");
        await PutAsync($"attempts/{attemptId}/load-ratings/2", """{"rating": 4}""");
        await PutAsync($"attempts/{attemptId}/load-ratings/1", """{"rating": 2}""");
        await PutAsync($"attempts/{attemptId}/load-ratings/2", """{"rating": 5}""");
        Assert.Equal([2, 5], (await DetailAsync(attemptId)).LoadRatings);
    }

    [Fact]
    public async Task What_came_with_the_upload_is_kept_in_whatever_zone_it_was_written()
    {
        var assignment = await app.AssignAsync("timed-turns");
        var told = new AttemptEvent(
            Guid.CreateVersion7(),
            "relief",
            new DateTimeOffset(2026, 1, 18, 6, 33, 0, TimeSpan.FromHours(13)),
            "Slowed down"
        );
        var attemptId = await app.UploadAsync(assignment.Id, "f13.csv", new AttemptMeta { Events = [told], LoadRatings = [1, 3] });
        var attempt = await DetailAsync(attemptId);
        Assert.Equal(
            (told.Id, told.AtUtc.ToUniversalTime(), "Slowed down"),
            (Assert.Single(attempt.Events).Id, attempt.Events[0].AtUtc, attempt.Events[0].Detail)
        );
        Assert.Equal([1, 3], attempt.LoadRatings);
    }

    [Theory]
    [InlineData("load-ratings/1", """{"rating": 6}""", HttpStatusCode.BadRequest)]
    [InlineData("load-ratings/0", """{"rating": 3}""", HttpStatusCode.BadRequest)]
    [InlineData(
        "events/00000000-0000-7000-8000-000000000001",
        """{"kind": "", "atUtc": "2026-01-17T17:31:00Z"}""",
        HttpStatusCode.BadRequest
    )]
    [InlineData("events/not-a-guid", """{"kind": "mark", "atUtc": "2026-01-17T17:31:00Z"}""", HttpStatusCode.NotFound)]
    public async Task What_is_no_event_or_rating_is_refused(string path, string body, HttpStatusCode status)
    {
        var attemptId = await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, "f13.csv");
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        using var content = new StringContent(body, new MediaTypeHeaderValue("application/json"));
        Assert.Equal(status, (await http.PutAsync($"/api/v1/attempts/{attemptId}/{path}", content, Cancel)).StatusCode);
    }

    private async Task PutAsync(string path, string body)
    {
        using var http = await app.HttpAsync(SchoolsFixture.Student);
        using var content = new StringContent(body, new MediaTypeHeaderValue("application/json"));
        Assert.Equal(HttpStatusCode.NoContent, (await http.PutAsync("/api/v1/" + path, content, Cancel)).StatusCode);
    }

    private async Task<AttemptDetail> DetailAsync(Guid id) => await (await app.AsAsync(SchoolsFixture.Student)).AttemptAsync(id, Cancel);
}
