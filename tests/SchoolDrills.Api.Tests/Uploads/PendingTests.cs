using System.Net;
using System.Net.Http.Headers;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Uploads;

public sealed class PendingTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_recording_is_matched_to_the_assignment_it_is_of_and_used_with_one_call()
    {
        var student = await app.AsAsync(SchoolsFixture.OtherStudent);
        await app.AssignAsync("racetrack", SchoolsFixture.OtherStudent);
        var turns = await app.AssignAsync("timed-turns", SchoolsFixture.OtherStudent);
        var pending = await SendAsync(student, "f13.csv");
        Assert.Contains(await student.PendingAsync(Cancel), p => p.Id == pending.Id);

        var check = await student.CheckUploadAsync(pending.Id, ct: Cancel);
        Assert.Empty(check.Cautions);
        Assert.Equal(turns.Id, check.Matches[0].AssignmentId);

        var accepted = await student.ClaimUploadAsync(pending.Id, new ClaimUpload(turns.Id, new AttemptMeta { QnhHpa = 1013 }), Cancel);
        var attempt = await student.AttemptAsync(accepted.AttemptId, Cancel);
        Assert.Equal((turns.Id, 1013d, "f13.csv"), (attempt.AssignmentId, attempt.Meta.QnhHpa, attempt.FileName));
        Assert.DoesNotContain(await student.PendingAsync(Cancel), p => p.Id == pending.Id);
    }

    [Fact]
    public async Task The_wrong_flight_and_the_wrong_day_are_told_at_once_with_what_is_in_it()
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        var box = await app.AssignAsync("box-circles");
        var race = await app.AssignAsync("racetrack");
        var pending = await SendAsync(student, "f12.csv");
        var check = await student.CheckUploadAsync(pending.Id, box.Id, Cancel);
        // Flown in the spring, assigned by this test today; and a racetrack of three and a half minutes holds no box of fourteen.
        Assert.Equal(2, check.Cautions.Count);
        Assert.Contains("before the drill was assigned", check.Cautions[0], StringComparison.Ordinal);
        Assert.Contains("Box with circles was not found in it, but Racetrack", check.Cautions[1], StringComparison.Ordinal);
        Assert.Contains(check.Matches, m => m.AssignmentId == race.Id);

        await student.DropUploadAsync(pending.Id, Cancel);
        Assert.DoesNotContain(await student.PendingAsync(Cancel), p => p.Id == pending.Id);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => student.CheckUploadAsync(pending.Id, ct: Cancel));
    }

    [Fact]
    public async Task The_same_recording_sent_twice_waits_once_and_says_what_was_assigned_after_the_flight()
    {
        var student = await app.AsAsync(SchoolsFixture.OtherStudent);
        var race = await app.AssignAsync("racetrack", SchoolsFixture.OtherStudent);
        var first = await SendAsync(student, "f12.gpx");
        var again = await SendAsync(student, "f12.gpx");
        Assert.Equal(first.Id, again.Id);
        Assert.Single(await student.PendingAsync(Cancel), p => p.FileName == "f12.gpx");

        // Flown before today, assigned by this test today; nobody asked for this assignment, so the match itself says it.
        var check = await student.CheckUploadAsync(first.Id, ct: Cancel);
        Assert.True(check.Matches.Single(m => m.AssignmentId == race.Id).AssignedLater);
        await student.DropUploadAsync(first.Id, Cancel);
    }

    [Fact]
    public async Task What_is_of_no_assigned_drill_says_which_of_the_catalogue_it_looks_like()
    {
        // A student of the other school, where nothing is assigned.
        var student = await app.AsAsync(SchoolsFixture.FarStudent);
        var check = await student.CheckUploadAsync((await SendAsync(student, "f13.csv")).Id, ct: Cancel);
        Assert.Empty(check.Matches);
        Assert.Equal("timed-turns", check.LooksLike);
        Assert.Contains("it looks like Timed turns", Assert.Single(check.Cautions), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_pending_recording_is_its_senders_alone()
    {
        var pending = await SendAsync(await app.AsAsync(SchoolsFixture.Student), "f13.gpx");
        foreach (var person in (string[])[SchoolsFixture.OtherStudent, SchoolsFixture.Instructor, SchoolsFixture.FarChief])
        {
            var other = await app.AsAsync(person);
            await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => other.CheckUploadAsync(pending.Id, ct: Cancel));
            await Refusals.RefusedAsync(
                HttpStatusCode.NotFound,
                () => other.ClaimUploadAsync(pending.Id, new ClaimUpload(null, new AttemptMeta { Drill = "timed-turns" }), Cancel)
            );
            await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => other.DropUploadAsync(pending.Id, Cancel));
        }
    }

    [Fact]
    public async Task Without_an_assignment_it_becomes_a_free_attempt_of_the_drill_said()
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        var pending = await SendAsync(student, "f13.nmea");
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => student.ClaimUploadAsync(pending.Id, new ClaimUpload(null, new AttemptMeta { Drill = "no-such-drill" }), Cancel)
        );
        var attempt = await student.AttemptAsync(
            (
                await student.ClaimUploadAsync(pending.Id, new ClaimUpload(null, new AttemptMeta { Drill = "timed-turns" }), Cancel)
            ).AttemptId,
            Cancel
        );
        Assert.Equal((null, "timed-turns"), (attempt.AssignmentId, attempt.Drill.Slug));
    }

    [Fact]
    public async Task A_phone_shares_into_the_pending_place_of_who_is_signed_in_and_into_none_else()
    {
        using var phone = app.CreateClient(new() { AllowAutoRedirect = false });
        var stranger = await phone.PostAsync("/share", Form(), Cancel);
        Assert.StartsWith("/sign-in", stranger.Headers.Location!.ToString(), StringComparison.Ordinal);

        phone.DefaultRequestHeaders.Authorization = (await app.HttpAsync(SchoolsFixture.OtherStudent)).DefaultRequestHeaders.Authorization;
        var shared = await phone.PostAsync("/share", Form(), Cancel);
        Assert.Equal("/upload", shared.Headers.Location!.ToString());
        Assert.Contains(await (await app.AsAsync(SchoolsFixture.OtherStudent)).PendingAsync(Cancel), p => p.FileName == "shared.csv");

        static MultipartFormDataContent Form()
        {
            var file = new StreamContent(SchoolsFixture.Recording("f12.csv"));
            file.Headers.ContentType = new MediaTypeHeaderValue("text/csv");
            return new MultipartFormDataContent { { file, "track", "shared.csv" } };
        }
    }

    [Fact]
    public async Task What_cannot_be_read_does_not_wait()
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        using var letter = new MemoryStream("This is a letter, not a recording."u8.ToArray());
        await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => student.SendRecordingAsync(letter, "letter.txt", Cancel));
        Assert.DoesNotContain(await student.PendingAsync(Cancel), p => p.FileName == "letter.txt");
    }

    private static async Task<PendingUpload> SendAsync(SchoolDrillsClient client, string recording)
    {
        await using var track = SchoolsFixture.Recording(recording);
        return await client.SendRecordingAsync(track, recording, Cancel);
    }
}
