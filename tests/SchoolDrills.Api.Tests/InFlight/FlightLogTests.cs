using System.Net;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.InFlight;

/// <summary>What is noted in the air, with a recording from 17:30:00 to 17:36:39 UTC on 17 January 2026.</summary>
public sealed class FlightLogTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static readonly DateTimeOffset Start = new(2026, 1, 17, 17, 30, 20, TimeSpan.Zero);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Notes_that_come_before_the_recording_are_in_its_first_score()
    {
        var (instructor, assignment) = await AssignedAsync();
        var (task, logId) = (Noted("load-task", 60, "A heading to add up"), Guid.NewGuid());
        var waiting = await instructor.PutFlightLogAsync(assignment, logId, Log(task), Cancel);
        Assert.Null(waiting.AttemptId);
        Assert.Equal("The instructor", waiting.NotedBy);
        Assert.Equal(Start, (await instructor.AssignmentAsync(assignment, Cancel)).NotesWaitSinceUtc);

        var attemptId = await app.UploadAsync(assignment, "f13.csv");
        await app.ScoreAsync(attemptId);

        var attempt = await instructor.AttemptAsync(attemptId, Cancel);
        Assert.Equal((AttemptStatus.Scored, 0), (attempt.Status, attempt.Revision));
        Assert.Equal(task, Assert.Single(attempt.Events));
        Assert.Equal(1, await ReportsAsync(attemptId));
        Assert.NotNull(attempt.Score!.Workload);
        var log = Assert.Single(await instructor.AttemptFlightLogsAsync(attemptId, Cancel));
        Assert.Equal((logId, attemptId, ClockSource.OnArrival, 0.0), (log.Id, log.AttemptId, log.Clock, log.ShiftS));
        Assert.Equal((Start - attempt.Score.StartUtc!.Value).TotalSeconds, log.StartDiffersS!.Value, 3);
        Assert.Null((await instructor.AssignmentAsync(assignment, Cancel)).NotesWaitSinceUtc);
    }

    [Fact]
    public async Task Notes_that_come_after_the_score_have_it_scored_once_more_and_sent_again_no_more()
    {
        var (instructor, assignment) = await AssignedAsync();
        var attemptId = await ScoredAsync(assignment);
        var (logId, log) = (Guid.NewGuid(), Log(Noted("check", 30, "Cruise flow"), Noted("load-task", 60, "Sum")));
        Assert.Equal(attemptId, (await instructor.PutFlightLogAsync(assignment, logId, log, Cancel)).AttemptId);
        Assert.Equal((AttemptStatus.Queued, 1), await StandingAsync(attemptId));
        await app.ScoreAsync(attemptId);
        Assert.Equal((AttemptStatus.Scored, 1), await StandingAsync(attemptId));
        Assert.Equal(2, (await instructor.AttemptAsync(attemptId, Cancel)).Events.Count);

        await instructor.PutFlightLogAsync(assignment, logId, log, Cancel);
        await instructor.PutFlightLogAsync(assignment, logId, log with { SentAtUtc = DateTimeOffset.UtcNow }, Cancel);
        Assert.Equal((AttemptStatus.Scored, 1), await StandingAsync(attemptId));
        Assert.Equal(2, await ReportsAsync(attemptId));
    }

    [Fact]
    public async Task An_event_that_was_taken_back_goes_and_what_was_told_of_the_attempt_stays()
    {
        var (instructor, assignment) = await AssignedAsync();
        var told = Noted("mark", 10, "Told with the upload");
        var attemptId = await app.UploadAsync(assignment, "f13.csv", new AttemptMeta { Events = [told] });
        await app.ScoreAsync(attemptId);
        var (kept, taken, logId) = (Noted("check", 30, "Cruise flow"), Noted("check", 50, "Fuel"), Guid.NewGuid());
        await instructor.PutFlightLogAsync(assignment, logId, Log(kept, taken), Cancel);
        Assert.Equal([told, kept, taken], (await instructor.AttemptAsync(attemptId, Cancel)).Events);

        await instructor.PutFlightLogAsync(assignment, logId, Log(kept with { Detail = "Cruise flow, late" }), Cancel);
        Assert.Equal([told, kept with { Detail = "Cruise flow, late" }], (await instructor.AttemptAsync(attemptId, Cancel)).Events);
        await instructor.PutFlightLogAsync(assignment, logId, Log(), Cancel);
        Assert.Equal([told], (await instructor.AttemptAsync(attemptId, Cancel)).Events);
    }

    [Fact]
    public async Task A_clock_measured_40_s_ahead_is_set_right_and_by_hand_overrides_it_until_undone()
    {
        var (instructor, assignment) = await AssignedAsync();
        var attemptId = await ScoredAsync(assignment);
        var (logId, ahead) = (Guid.NewGuid(), Noted("check", 70, "Cruise flow"));
        var log = Log(ahead) with { StartedAtUtc = Start.AddSeconds(40), ClockAheadS = 40 };
        var seen = await instructor.PutFlightLogAsync(assignment, logId, log, Cancel);
        Assert.Equal((40.0, ClockSource.Measured, Start), (seen.ShiftS, seen.Clock, seen.StartedAtUtc));
        Assert.Equal(Start.AddSeconds(30), await OnlyEventAsync());
        await app.ScoreAsync(attemptId);

        seen = await instructor.ShiftFlightLogAsync(logId, 43, Cancel);
        Assert.Equal((43.0, ClockSource.ByHand, 40.0), (seen.ShiftS, seen.Clock, seen.UnshiftedS));
        Assert.Equal(Start.AddSeconds(27), await OnlyEventAsync());
        Assert.Equal((AttemptStatus.Queued, 2), await StandingAsync(attemptId));
        await app.ScoreAsync(attemptId);
        // The device knows nothing of it, and sends again.
        await instructor.PutFlightLogAsync(assignment, logId, log, Cancel);
        Assert.Equal(Start.AddSeconds(27), await OnlyEventAsync());
        Assert.Equal((AttemptStatus.Scored, 2), await StandingAsync(attemptId));

        seen = await instructor.ShiftFlightLogAsync(logId, null, Cancel);
        Assert.Equal((40.0, ClockSource.Measured), (seen.ShiftS, seen.Clock));
        Assert.Equal(Start.AddSeconds(30), await OnlyEventAsync());
        var trail = (await (await app.AsAsync(SchoolsFixture.Chief)).AuditAsync(ct: Cancel)).Items;
        Assert.Equal(2, trail.Count(l => l.What == "flight-log-shifted" && l.SubjectId == assignment));
        Assert.Contains(trail, l => l.What == "flight-log-shifted" && l.Changes.Contains(new AuditChange("byHandS", null, "43")));

        async Task<DateTimeOffset> OnlyEventAsync() => Assert.Single((await instructor.AttemptAsync(attemptId, Cancel)).Events).AtUtc;
    }

    [Fact]
    public async Task A_clock_nobody_measured_is_set_right_by_when_the_log_arrives()
    {
        var (instructor, assignment) = await AssignedAsync();
        var (logId, log) = (Guid.NewGuid(), Log(Noted("check", 70)));
        log = log with { StartedAtUtc = Start.AddSeconds(40), SentAtUtc = DateTimeOffset.UtcNow.AddSeconds(40) };
        var seen = await instructor.PutFlightLogAsync(assignment, logId, log, Cancel);
        Assert.Equal(ClockSource.OnArrival, seen.Clock);
        // What the request took on its way is in it.
        Assert.InRange(seen.ShiftS, 38, 40);
        // The same log, having waited three minutes on its way, says nothing new.
        var again = await instructor.PutFlightLogAsync(assignment, logId, log with { SentAtUtc = log.SentAtUtc.AddMinutes(-3) }, Cancel);
        Assert.Equal(seen.ShiftS, again.ShiftS);
    }

    [Theory]
    [InlineData(3601)]
    [InlineData(-3601)]
    public async Task A_shift_is_an_hour_at_most(double shiftS)
    {
        var (instructor, assignment) = await AssignedAsync();
        var logId = Guid.NewGuid();
        await instructor.PutFlightLogAsync(assignment, logId, Log(), Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => instructor.ShiftFlightLogAsync(logId, shiftS, Cancel));
    }

    [Fact]
    public async Task A_shift_that_takes_notes_away_from_their_recording_is_refused()
    {
        var (instructor, assignment) = await AssignedAsync();
        var attemptId = await ScoredAsync(assignment);
        var (logId, noted) = (Guid.NewGuid(), Noted("check", 30));
        await instructor.PutFlightLogAsync(assignment, logId, Log(noted), Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => instructor.ShiftFlightLogAsync(logId, 3000, Cancel));
        Assert.Equal(noted, Assert.Single((await instructor.AttemptAsync(attemptId, Cancel)).Events));
        Assert.Equal(0, Assert.Single(await instructor.FlightLogsAsync(assignment, Cancel)).ShiftS);
    }

    [Fact]
    public async Task Notes_of_another_flight_wait_until_a_shift_brings_them_to_the_recording()
    {
        var (instructor, assignment) = await AssignedAsync();
        var attemptId = await ScoredAsync(assignment);
        var logId = Guid.NewGuid();
        var log = Log(Noted("check", 1830)) with { StartedAtUtc = Start.AddMinutes(30) };
        Assert.Null((await instructor.PutFlightLogAsync(assignment, logId, log, Cancel)).AttemptId);
        Assert.Empty(await instructor.AttemptFlightLogsAsync(attemptId, Cancel));
        Assert.Equal((AttemptStatus.Scored, 0), await StandingAsync(attemptId));
        Assert.Equal(attemptId, (await instructor.ShiftFlightLogAsync(logId, 1800, Cancel)).AttemptId);
        Assert.Equal(Start.AddSeconds(30), Assert.Single((await instructor.AttemptAsync(attemptId, Cancel)).Events).AtUtc);
    }

    [Fact]
    public async Task A_cancelled_assignment_takes_notes_and_another_student_or_school_finds_none()
    {
        var (instructor, assignment) = await AssignedAsync();
        await instructor.CancelAssignmentAsync(assignment, Cancel);
        var (logId, log) = (Guid.NewGuid(), Log(Noted("note", 5, "Broken off for traffic")));
        await instructor.PutFlightLogAsync(assignment, logId, log, Cancel);

        foreach (var stranger in (string[])[SchoolsFixture.OtherStudent, SchoolsFixture.FarChief, SchoolsFixture.FarStudent])
        {
            var other = await app.AsAsync(stranger);
            await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => other.PutFlightLogAsync(assignment, Guid.NewGuid(), log, Cancel));
            await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => other.FlightLogsAsync(assignment, Cancel));
        }

        await Refusals.RefusedAsync(
            HttpStatusCode.NotFound,
            async () => await (await app.AsAsync(SchoolsFixture.FarChief)).ShiftFlightLogAsync(logId, 5, Cancel)
        );
        var student = await app.AsAsync(SchoolsFixture.Student);
        Assert.Equal(logId, Assert.Single(await student.FlightLogsAsync(assignment, Cancel)).Id);
        await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => student.ShiftFlightLogAsync(logId, 5, Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => student.PutFlightLogAsync(assignment, logId, Log(), Cancel));
        // A tablet that was handed on: what its last user noted is still that user's.
        var colleague = await app.AsAsync(SchoolsFixture.SecondInstructor);
        Assert.Equal("The instructor", (await colleague.PutFlightLogAsync(assignment, logId, log, Cancel)).NotedBy);
    }

    [Fact]
    public async Task What_is_no_flights_log_is_refused()
    {
        var (instructor, assignment) = await AssignedAsync();
        var many = Enumerable.Range(0, 501).Select(i => Noted("check", i % 60)).ToArray();
        await RefusedAsync(Log(many));
        await RefusedAsync(Log(Noted("", 1)));
        await RefusedAsync(Log(Noted(new string('k', 61), 1)));
        await RefusedAsync(Log(Noted("note", 1, new string('d', 2001))));
        await RefusedAsync(Log() with { EndedAtUtc = Start.AddSeconds(-1) });
        await RefusedAsync(Log(Noted("check", 86_500)));
        await RefusedAsync(Log() with { ClockAheadS = 1e9 });
        await RefusedAsync(Log() with { StartedAtUtc = DateTimeOffset.UnixEpoch });
        var logId = Guid.NewGuid();
        Assert.Equal(500, (await instructor.PutFlightLogAsync(assignment, logId, Log(many[..500]), Cancel)).Events.Count);
        var elsewhere = (await app.AssignAsync("racetrack")).Id;
        await Refusals.RefusedAsync(HttpStatusCode.Conflict, () => instructor.PutFlightLogAsync(elsewhere, logId, Log(), Cancel));

        Task RefusedAsync(PutFlightLog log) =>
            Refusals.RefusedAsync(
                HttpStatusCode.UnprocessableEntity,
                () => instructor.PutFlightLogAsync(assignment, Guid.NewGuid(), log, Cancel)
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

    private async Task<(SchoolDrillsClient Instructor, Guid AssignmentId)> AssignedAsync() =>
        (await app.AsAsync(SchoolsFixture.Instructor), (await app.AssignAsync("timed-turns")).Id);

    private async Task<Guid> ScoredAsync(Guid assignmentId)
    {
        var attemptId = await app.UploadAsync(assignmentId, "f13.csv");
        await app.ScoreAsync(attemptId);
        return attemptId;
    }

    private Task<int> ReportsAsync(Guid attemptId) =>
        app.QueryAsync(db => db.ScoreReports.CountAsync(r => r.AttemptId == attemptId, Cancel));

    private Task<(AttemptStatus Status, int Revision)> StandingAsync(Guid attemptId) =>
        app.QueryAsync(async db =>
        {
            var attempt = await db.Attempts.AsNoTracking().SingleAsync(a => a.Id == attemptId, Cancel);
            return (attempt.Status, attempt.Revision);
        });
}
