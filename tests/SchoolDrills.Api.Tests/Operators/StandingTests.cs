using System.Net;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Schools;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Api.Uploads;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Operators;

/// <summary>Schools listed, suspended, resumed and limited. Each test in an app of its own.</summary>
public sealed class StandingTests : IAsyncLifetime
{
    private const string Tussock = "Tussock Plains Flying School";

    private readonly SchoolsFixture app = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public ValueTask InitializeAsync() => app.InitializeAsync();

    public ValueTask DisposeAsync() => app.DisposeAsync();

    [Fact]
    public async Task Schools_are_listed_with_what_they_have()
    {
        await app.ScoredAsync("timed-turns", "f13.csv");
        var listed = JsonDocument.Parse(await Operator.RunAsync(app, "schools", "--json")).RootElement.EnumerateArray().ToList();
        var (elsewhere, tussock) = (listed[0], listed[1]);
        Assert.Equal(("Elsewhere Aero Club", 2), (elsewhere.GetProperty("name").GetString(), elsewhere.GetProperty("people").GetInt32()));
        Assert.Equal((app.TussockId, 5), (tussock.GetProperty("id").GetGuid(), tussock.GetProperty("people").GetInt32()));
        Assert.Equal(("running", 1), (tussock.GetProperty("state").GetString(), tussock.GetProperty("attempts").GetInt32()));
        var kept = await app.QueryAsync(db => db.TrackFiles.Select(f => f.Content.Length).SingleAsync(Cancel));
        Assert.Equal(kept, tussock.GetProperty("bytes").GetInt64());
        Assert.Contains($"{app.TussockId}  {Tussock}", await Operator.RunAsync(app, "schools"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nobody_of_a_suspended_school_comes_in_and_resuming_restores_all()
    {
        var waiting = await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, "f13.csv");
        var free = await app.AssignAsync("racetrack");
        var student = await app.AsAsync(SchoolsFixture.Student);
        var session = await app.SignInAsync(SchoolsFixture.Instructor);
        await Operator.RunAsync(app, "suspend-school", Tussock);

        foreach (
            var request in (Func<Task>[])
                [
                    () => student.AttemptAsync(waiting, Cancel),
                    () => app.UploadAsync(free.Id, "f12.csv"),
                    () => app.SignInAsync(SchoolsFixture.Chief),
                    () => new SchoolDrillsClient(app.Stranger()).RefreshAsync(new RefreshSession(session.RefreshToken), Cancel),
                ]
        )
        {
            var refusal = await Refusals.RefusedAsync(HttpStatusCode.Forbidden, request);
            Assert.True(refusal.Is(ApiProblemException.SchoolSuspended), refusal.Message);
        }

        // Another school goes on, and what was accepted is scored.
        await (await app.AsAsync(SchoolsFixture.FarChief)).MeAsync(Cancel);
        var claim = await app.Services.GetRequiredService<ScoringQueue>().ClaimAsync(Cancel);
        Assert.Equal(waiting, claim!.AttemptId);
        await app.ScoreAsync(waiting);
        Assert.Contains("already", await Operator.RunAsync(app, "suspend-school", Tussock), StringComparison.Ordinal);

        await Operator.RunAsync(app, "resume-school", app.TussockId.ToString());
        Assert.Equal(AttemptStatus.Scored, (await student.AttemptAsync(waiting, Cancel)).Status);
        await app.UploadAsync(free.Id, "f12.csv");
        Assert.Equal(
            ["school-suspended", "school-resumed"],
            await app.QueryAsync(db =>
                db.AuditEntries.Where(e => e.Subject == "school").OrderBy(e => e.Id).Select(e => e.Action).ToListAsync(Cancel)
            )
        );
    }

    [Fact]
    public async Task A_page_of_a_suspended_school_leads_to_the_sign_in_page_which_says_why()
    {
        var cookie = await app.CookieAsync(SchoolsFixture.Chief);
        using var http = app.CreateClient(new() { AllowAutoRedirect = false, HandleCookies = false });
        Assert.Equal(HttpStatusCode.OK, (await AskAsync()).StatusCode);
        await Operator.RunAsync(app, "suspend-school", Tussock);
        var answer = await AskAsync();
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        var page = await http.GetStringAsync(answer.Headers.Location, Cancel);
        Assert.Contains("This school is suspended", page, StringComparison.Ordinal);
        await Operator.RunAsync(app, "resume-school", Tussock);
        Assert.Equal(HttpStatusCode.OK, (await AskAsync()).StatusCode);

        async Task<HttpResponseMessage> AskAsync()
        {
            using var asked = new HttpRequestMessage(HttpMethod.Get, "/school");
            asked.Headers.Add("Cookie", cookie);
            return await http.SendAsync(asked, Cancel);
        }
    }

    [Fact]
    public async Task An_upload_that_is_under_way_when_its_school_is_suspended_is_not_kept()
    {
        await Operator.RunAsync(app, "suspend-school", Tussock);
        await app.QueryAsync(async db =>
        {
            // As its last step asks, when it had come in before.
            var room = new SchoolRoom(db, new SchoolLimits(null, null));
            var refusal = await room.RefusalAsync(1, isUpload: true, DateTimeOffset.UtcNow, Cancel);
            Assert.Equal((int)HttpStatusCode.Forbidden, refusal!.StatusCode);
            return 0;
        });
    }

    [Fact]
    public async Task A_wrong_or_ambiguous_name_is_refused_with_what_to_give()
    {
        Assert.StartsWith("There is no school Nowhere here", await Operator.RefusedAsync(app, "suspend-school", "Nowhere"));
        await using (var raw = await RawSql.OpenAsync(app.Database.OwnerConnectionString))
            await raw.ExecuteAsync($"update schools set name = '{Tussock}'");
        Assert.StartsWith("2 schools are named", await Operator.RefusedAsync(app, "suspend-school", Tussock));
        Assert.StartsWith("Say which school", await Operator.RefusedAsync(app, "resume-school"));
        Assert.StartsWith("Say how much", await Operator.RefusedAsync(app, "limit-school", Tussock, "--storage", "much"));
    }

    [Fact]
    public async Task Of_uploads_at_once_at_the_hours_limit_as_many_pass_as_there_is_room_for()
    {
        await Operator.RunAsync(app, "limit-school", Tussock, "--uploads-an-hour", "2");
        var assignments = new List<AssignmentSummary>();
        for (var n = 0; n < 5; n++)
            assignments.Add(await app.AssignAsync("timed-turns"));
        var answers = await Task.WhenAll(assignments.Select(a => TryAsync(() => app.UploadAsync(a.Id, "f13.csv"))));
        Assert.Equal(2, answers.Count(a => a is null));
        Assert.All(answers.OfType<ApiProblemException>(), a => Assert.Equal(HttpStatusCode.TooManyRequests, a.Status));
        Assert.EndsWith("send it in 60 minutes.", answers.OfType<ApiProblemException>().First().Message, StringComparison.Ordinal);
        Assert.Equal((2, 2), await KeptAsync());
        // The same bytes for the same work are no further recording.
        var again = assignments[Array.IndexOf(answers, null)];
        await app.UploadAsync(again.Id, "f13.csv");
        await Operator.RunAsync(app, "limit-school", Tussock, "--uploads-an-hour", "none");
        await app.UploadAsync(assignments[Array.FindIndex(answers, a => a is not null)].Id, "f13.csv");
    }

    [Fact]
    public async Task A_recording_that_does_not_fit_is_refused_whole_and_what_is_dropped_makes_room()
    {
        var first = await app.AssignAsync("timed-turns");
        await app.UploadAsync(first.Id, "f13.csv");
        var bytes = await app.QueryAsync(db => db.Schools.Select(s => s.StoredBytes).SingleAsync(Cancel));
        // Room for one more and a half.
        await Operator.RunAsync(app, "limit-school", Tussock, "--storage", $"{bytes * 5 / 2}");
        var student = await app.AsAsync(SchoolsFixture.Student);
        await using (var track = SchoolsFixture.Recording("f13.csv"))
            await student.SendRecordingAsync(track, "f13.csv", Cancel);
        var second = await app.AssignAsync("timed-turns");
        var refusal = await Refusals.RefusedAsync(HttpStatusCode.InsufficientStorage, () => app.UploadAsync(second.Id, "f13.csv"));
        Assert.True(refusal.Is("school-full"));
        Assert.Equal((1, 1), await KeptAsync());
        // Claimed, it takes the room it has.
        var pending = Assert.Single(await student.PendingAsync(Cancel));
        await student.ClaimUploadAsync(pending.Id, new ClaimUpload(second.Id), Cancel);
        Assert.Equal((2, 2), await KeptAsync());
        var storage = (await (await app.AsAsync(SchoolsFixture.Chief)).SchoolOverviewAsync(ct: Cancel)).Storage!;
        Assert.Equal((2 * bytes, bytes * 5 / 2), (storage.Bytes, storage.MostBytes));
    }

    private async Task<(int Attempts, int Recordings)> KeptAsync() =>
        (await app.QueryAsync(db => db.Attempts.CountAsync(Cancel)), await app.QueryAsync(db => db.TrackFiles.CountAsync(Cancel)));

    private static async Task<ApiProblemException?> TryAsync(Func<Task> request)
    {
        try
        {
            await request();
            return null;
        }
        catch (ApiProblemException refused)
        {
            return refused;
        }
    }
}
