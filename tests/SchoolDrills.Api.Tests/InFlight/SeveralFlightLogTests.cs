using System.Net;
using System.Net.Http.Headers;
using System.Text;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.InFlight;

/// <summary>Several devices, several recordings, and several words on how loaded the student was.</summary>
public sealed class SeveralFlightLogTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static readonly DateTimeOffset Start = new(2026, 1, 17, 17, 30, 20, TimeSpan.Zero);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task What_two_note_within_five_seconds_counts_once_and_what_one_notes_twice_counts_twice()
    {
        var (assignment, attemptId) = await ScoredAsync();
        var (one, other) = (await app.AsAsync(SchoolsFixture.Instructor), await app.AsAsync(SchoolsFixture.SecondInstructor));
        var (oneId, otherId) = (Guid.NewGuid(), Guid.NewGuid());
        var shared = Noted("note", 100, "Seen by both");
        AttemptEvent[] first = [Noted("check", 30, "Fuel"), Noted("load-task", 60, "Sum"), Noted("load-task", 63, "Sum"), shared];
        AttemptEvent[] second = [Noted("check", 35, "fuel "), Noted("check", 41, "Fuel"), Noted("load-task", 61, "Spell"), shared];
        await PutAsync(one, oneId, first);
        await PutAsync(other, otherId, second);

        // Of the second's, the check at 35 s is the first's at 30 s; that at 41 s is not.
        Assert.Equal([first[0], second[1], first[1], second[2], first[2], shared], await EventsAsync());
        Assert.Equal(new[] { oneId, otherId }.Order(), (await one.AttemptFlightLogsAsync(attemptId, Cancel)).Select(l => l.Id).Order());
        // What the first takes back, the second still has.
        await PutAsync(one, oneId, first[1..3]);
        Assert.Equal([second[0], second[1], first[1], second[2], first[2], shared], await EventsAsync());

        Task PutAsync(SchoolDrillsClient who, Guid id, AttemptEvent[] events) => who.PutFlightLogAsync(assignment, id, Log(events), Cancel);

        async Task<IReadOnlyList<AttemptEvent>> EventsAsync() => (await one.AttemptAsync(attemptId, Cancel)).Events;
    }

    [Fact]
    public async Task An_event_put_on_the_attempt_under_a_logs_number_is_the_attempts_from_then_on()
    {
        var (assignment, attemptId) = await ScoredAsync();
        var (instructor, logId) = (await app.AsAsync(SchoolsFixture.Instructor), Guid.NewGuid());
        var noted = Noted("check", 30, "Fuel");
        await instructor.PutFlightLogAsync(assignment, logId, Log(noted), Cancel);
        await PutAsync(
            SchoolsFixture.Student,
            $"attempts/{attemptId}/events/{noted.Id}",
            $$"""{"kind": "check", "atUtc": "{{noted.AtUtc:O}}"}"""
        );
        await instructor.PutFlightLogAsync(assignment, logId, Log(), Cancel);
        Assert.Equal(noted with { Detail = null }, Assert.Single((await instructor.AttemptAsync(attemptId, Cancel)).Events));
    }

    [Fact]
    public async Task Of_several_recordings_a_log_goes_to_the_one_in_which_the_drill_is_and_there_once()
    {
        var assignment = (await app.AssignAsync("timed-turns")).Id;
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var noted = Noted("check", 60, "Fuel");
        // The first two minutes alone: the drill is not in there.
        var cut = await UploadCutAsync(assignment, 120);
        await app.ScoreAsync(cut);
        Assert.Equal(AttemptStatus.Unscorable, (await instructor.AttemptAsync(cut, Cancel)).Status);
        await instructor.PutFlightLogAsync(assignment, Guid.NewGuid(), Log(noted), Cancel);
        await app.ScoreAsync(cut);
        Assert.Equal(noted, Assert.Single((await instructor.AttemptAsync(cut, Cancel)).Events));

        var whole = await app.UploadAsync(assignment, "f13.csv");
        await app.ScoreAsync(whole);
        Assert.Empty((await instructor.AttemptAsync(cut, Cancel)).Events);
        Assert.Equal(noted, Assert.Single((await instructor.AttemptAsync(whole, Cancel)).Events));

        // The same flight as another device recorded it fits as well, and changes nothing.
        var again = await app.UploadAsync(assignment, "f13.nmea");
        await app.ScoreAsync(again);
        Assert.Empty((await instructor.AttemptAsync(again, Cancel)).Events);
        Assert.Equal(whole, Assert.Single(await instructor.FlightLogsAsync(assignment, Cancel)).AttemptId);

        // Nor does scoring one of them again.
        await app.ScoreAsync(cut);
        Assert.Equal(AttemptStatus.Scored, (await instructor.AttemptAsync(again, Cancel)).Status);
        foreach (var attemptId in (Guid[])[whole, again])
        {
            await app.QueryAsJobAsync(db =>
                db.Attempts.Where(a => a.Id == attemptId)
                    .ExecuteUpdateAsync(
                        a => a.SetProperty(x => x.Revision, x => x.Revision + 1).SetProperty(x => x.Status, AttemptStatus.Queued),
                        Cancel
                    )
            );
            await app.ScoreAsync(attemptId);
        }

        Assert.Equal(whole, Assert.Single(await instructor.FlightLogsAsync(assignment, Cancel)).AttemptId);
        Assert.Equal(AttemptStatus.Scored, (await instructor.AttemptAsync(whole, Cancel)).Status);
        Assert.Equal(AttemptStatus.Scored, (await instructor.AttemptAsync(again, Cancel)).Status);
    }

    [Fact]
    public async Task Many_logs_and_a_score_at_once_end_with_all_notes_in_the_newest_score()
    {
        var assignment = (await app.AssignAsync("timed-turns")).Id;
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var attemptId = await app.UploadAsync(assignment, "f13.csv");
        var notes = Enumerable.Range(0, 8).Select(i => Noted("check", 20 + i * 10, $"Check {i}")).ToList();
        await Task.WhenAll([
            app.ScoreAsync(attemptId),
            .. notes.Select(n => instructor.PutFlightLogAsync(assignment, Guid.NewGuid(), Log(n), Cancel)),
        ]);
        var attempt = await instructor.AttemptAsync(attemptId, Cancel);
        for (var again = 0; again < 3 && attempt.Status != AttemptStatus.Scored; again++)
        {
            await app.ScoreAsync(attemptId);
            attempt = await instructor.AttemptAsync(attemptId, Cancel);
        }

        Assert.Equal(AttemptStatus.Scored, attempt.Status);
        Assert.Equal(notes, attempt.Events);
        Assert.All(await instructor.FlightLogsAsync(assignment, Cancel), l => Assert.Equal(attemptId, l.AttemptId));
    }

    [Fact]
    public async Task What_an_instructor_says_of_the_load_stands_beside_what_the_student_says()
    {
        var (assignment, attemptId) = await ScoredAsync();
        var (student, instructor) = (await app.AsAsync(SchoolsFixture.Student), await app.AsAsync(SchoolsFixture.Instructor));
        await PutRatingAsync(SchoolsFixture.Instructor, attemptId, 1, 5);
        Assert.Equal([5], (await student.AttemptAsync(attemptId, Cancel)).LoadRatings);
        await PutRatingAsync(SchoolsFixture.Student, attemptId, 1, 2);
        await PutRatingAsync(SchoolsFixture.Instructor, attemptId, 1, 4);

        var attempt = await instructor.AttemptAsync(attemptId, Cancel);
        Assert.Equal([2], attempt.LoadRatings);
        Assert.Equal([new SaidLoad(1, 2, LoadSource.Student), new SaidLoad(1, 4, LoadSource.Instructor)], attempt.SaidLoad);

        // In the air: noted by the instructor, and on a tablet of the student's own.
        await instructor.PutFlightLogAsync(
            assignment,
            Guid.NewGuid(),
            Log(Noted("load-rating", 90, "3"), Noted("load-rating", 40, "1"), Noted("load-rating", 50, "6")),
            Cancel
        );
        await student.PutFlightLogAsync(assignment, Guid.NewGuid(), Log(Noted("load-rating", 41, "2")), Cancel);
        attempt = await instructor.AttemptAsync(attemptId, Cancel);
        Assert.Equal([2, 2], attempt.LoadRatings);
        Assert.Equal(
            [
                new SaidLoad(1, 2, LoadSource.Student),
                new SaidLoad(1, 4, LoadSource.Instructor),
                new SaidLoad(2, 2, LoadSource.Student, Start.AddSeconds(41)),
                new SaidLoad(2, 1, LoadSource.Instructor, Start.AddSeconds(40)),
                new SaidLoad(3, 3, LoadSource.Instructor, Start.AddSeconds(90)),
            ],
            attempt.SaidLoad
        );
    }

    [Fact]
    public async Task A_self_assessment_leaves_what_the_instructor_put_down()
    {
        var (_, attemptId) = await ScoredAsync();
        await PutRatingAsync(SchoolsFixture.Instructor, attemptId, 1, 5);
        var student = await app.AsAsync(SchoolsFixture.Student);
        await student.AssessSelfAsync(attemptId, new PutSelfAssessment(LoadRatings: [3]), Cancel);
        Assert.Equal(
            [new SaidLoad(1, 3, LoadSource.Student), new SaidLoad(1, 5, LoadSource.Instructor)],
            (await student.AttemptAsync(attemptId, Cancel)).SaidLoad
        );
    }

    private static AttemptEvent Noted(string kind, double afterS, string? detail = null) =>
        new(Guid.CreateVersion7(), kind, Start.AddSeconds(afterS), detail);

    private static PutFlightLog Log(params AttemptEvent[] events) =>
        new()
        {
            StartedAtUtc = Start,
            SentAtUtc = DateTimeOffset.UtcNow,
            Events = events,
        };

    private Task PutRatingAsync(string who, Guid attemptId, int number, int rating) =>
        PutAsync(who, $"attempts/{attemptId}/load-ratings/{number}", $$"""{"rating": {{rating}}}""");

    /// <summary>The client has no method for what devices alone send.</summary>
    private async Task PutAsync(string who, string path, string json)
    {
        using var http = await app.HttpAsync(who);
        using var body = new StringContent(json, new MediaTypeHeaderValue("application/json"));
        Assert.Equal(HttpStatusCode.NoContent, (await http.PutAsync("/api/v1/" + path, body, Cancel)).StatusCode);
    }

    private async Task<(Guid AssignmentId, Guid AttemptId)> ScoredAsync()
    {
        var assignment = (await app.AssignAsync("timed-turns")).Id;
        var attemptId = await app.UploadAsync(assignment, "f13.csv");
        await app.ScoreAsync(attemptId);
        return (assignment, attemptId);
    }

    /// <summary>Uploads the first so many seconds of the recording, which has one line a second.</summary>
    private async Task<Guid> UploadCutAsync(Guid assignmentId, int seconds)
    {
        await using var file = SchoolsFixture.Recording("f13.csv");
        using var reader = new StreamReader(file);
        var lines = (await reader.ReadToEndAsync(Cancel)).Split('\n')[..(seconds + 1)];
        using var track = new MemoryStream(Encoding.UTF8.GetBytes(string.Join('\n', lines)));
        var student = await app.AsAsync(SchoolsFixture.Student);
        return (await student.UploadAsync(assignmentId, track, "cut.csv", new AttemptMeta(), Cancel)).AttemptId;
    }
}
