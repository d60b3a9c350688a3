using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.InFlight;

/// <summary>
/// What a device notes in the air, sent whole and as often as the device likes, before the recording or after it. Nothing that was noted
/// is refused for coming late: an assignment that was taken back takes it too.
/// </summary>
internal static class FlightLogEndpoints
{
    /// <summary>An hour by which a clock stands in another zone, at most.</summary>
    private const double MostShiftS = 3600;

    /// <summary>A device whose clock is further off has no clock to speak of.</summary>
    private const double MostAheadS = 366 * 86_400d;

    private static readonly TimeSpan LongestFlight = TimeSpan.FromDays(1);

    public static void MapFlightLogs(this RouteGroupBuilder api)
    {
        var ofAssignment = api.MapGroup("/assignments/{id:guid}/flight-logs").RequireAuthorization(Policies.SignedIn);
        ofAssignment
            .MapGet("", OfAssignmentAsync)
            .WithSummary("What was noted in the air for an assignment, with what waits for its recording");
        ofAssignment
            .MapPut("/{logId:guid}", PutAsync)
            .WithSummary("Keeps a flight's log, whole; sending it twice keeps it once, and what is missing was taken back");
        api.MapGet("/attempts/{id:guid}/flight-logs", OfAttemptAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("The logs of an attempt, and how their clocks were set right");
        api.MapPut("/flight-logs/{id:guid}/shift", ShiftAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Says by how much a device's clock was ahead; null goes back to what was measured");
    }

    private static async Task<Results<Ok<IReadOnlyList<FlightLogView>>, ProblemHttpResult>> OfAssignmentAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    ) =>
        await db.Assignments.VisibleTo(me).AnyAsync(a => a.Id == id, ct)
            ? TypedResults.Ok(await FlightLogViews.OfAsync(db, db.FlightLogs.VisibleTo(me).Where(l => l.AssignmentId == id), ct))
            : Problems.NotFound("assignment");

    private static async Task<Results<Ok<IReadOnlyList<FlightLogView>>, ProblemHttpResult>> OfAttemptAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    ) =>
        await db.Attempts.VisibleTo(me).AnyAsync(a => a.Id == id, ct)
            ? TypedResults.Ok(await FlightLogViews.OfAsync(db, db.FlightLogs.VisibleTo(me).Where(l => l.AttemptId == id), ct))
            : Problems.NotFound("attempt");

    private static async Task<Results<Ok<FlightLogView>, ProblemHttpResult>> PutAsync(
        Guid id,
        Guid logId,
        PutFlightLog sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        AttemptRescoring rescoring,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await db.Assignments.AsNoTracking().VisibleTo(me).FirstOrDefaultAsync(a => a.Id == id, ct) is not { } assignment)
            return Problems.NotFound("assignment");
        if (Problem(sent) is { } problem)
            return Problems.Unprocessable("flight-log", problem);

        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        await FlightLogLinks.LockAsync(db, id, ct);
        var now = clock.GetUtcNow();
        var sentMinusArrivedS = (sent.SentAtUtc - now).TotalSeconds;
        var log = await db.FlightLogs.VisibleTo(me).FirstOrDefaultAsync(l => l.Id == logId, ct);
        if (log is not null && log.AssignmentId != id)
            return AnothersNumber();
        // A tablet that is handed on sends what its last user noted; a student's device sends the student's own.
        if (log is not null && log.NotedById != me.Id && !me.IsStaff)
            return Problems.Forbidden($"This was noted by {await NameAsync(db, log.NotedById, ct)}, and is an instructor's to change.");
        if (log is null)
        {
            log = new FlightLog
            {
                Id = logId,
                SchoolId = me.SchoolId,
                AssignmentId = id,
                StudentId = assignment.StudentId,
                NotedById = me.Id,
                ReceivedAtUtc = now,
                SentMinusArrivedS = sentMinusArrivedS,
            };
            db.FlightLogs.Add(log);
        }

        log.StartedAtUtc = sent.StartedAtUtc?.ToUniversalTime();
        log.EndedAtUtc = sent.EndedAtUtc?.ToUniversalTime();
        log.ClockAheadS = sent.ClockAheadS;
        log.SentMinusArrivedS = Engine.InFlight.DeviceClock.LessDelayedS(log.SentMinusArrivedS, sentMinusArrivedS);
        log.Events =
        [
            .. sent
                .Events.GroupBy(e => e.Id)
                .Select(e => e.Last() with { AtUtc = e.Last().AtUtc.ToUniversalTime() })
                .OrderBy(e => e.AtUtc)
                .ThenBy(e => e.Id),
        ];
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateException e) when (e.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation })
        {
            return AnothersNumber();
        }

        await rescoring.QueueChangedAsync(await FlightLogLinks.LinkAsync(db, id, null, ct), transaction, ct);
        return TypedResults.Ok((await FlightLogViews.OfAsync(db, db.FlightLogs.Where(l => l.Id == logId), ct))[0]);
    }

    private static async Task<Results<Ok<FlightLogView>, ProblemHttpResult>> ShiftAsync(
        Guid id,
        ShiftFlightLog sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        AttemptRescoring rescoring,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (sent.ShiftS is not (null or (>= -MostShiftS and <= MostShiftS)))
            return Problems.Unprocessable("shift", "shiftS is by how many seconds the clock was ahead: −3,600 to 3,600, or null.");
        var assignmentId = await db
            .FlightLogs.VisibleTo(me)
            .Where(l => l.Id == id)
            .Select(l => (Guid?)l.AssignmentId)
            .FirstOrDefaultAsync(ct);
        if (assignmentId is null)
            return Problems.NotFound("flight log");
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        await FlightLogLinks.LockAsync(db, assignmentId.Value, ct);
        var log = await db.FlightLogs.VisibleTo(me).FirstAsync(l => l.Id == id, ct);
        if (log.ByHandS != sent.ShiftS)
        {
            log.ByHandS = sent.ShiftS;
            var told = sent.ShiftS is { } s ? string.Create(CultureInfo.InvariantCulture, $"clock {s:0.#} s ahead") : "as measured";
            db.AuditEntries.Add(
                AuditEntry.By(me, clock.GetUtcNow(), "flight-log-shifted", "assignment", log.AssignmentId, $"{id}: {told}")
            );
            var before = log.AttemptId;
            await db.SaveChangesAsync(ct);
            var changed = await FlightLogLinks.LinkAsync(db, log.AssignmentId, null, ct);
            var after = await db.FlightLogs.Where(l => l.Id == id).Select(l => l.AttemptId).FirstAsync(ct);
            if (before is not null && after is null && sent.ShiftS is not null)
            {
                return Problems.Unprocessable(
                    "shift",
                    "With its clock that far off, these notes are of another time than the recording that they stand beside."
                );
            }

            await rescoring.QueueChangedAsync(changed, transaction, ct);
        }

        return TypedResults.Ok((await FlightLogViews.OfAsync(db, db.FlightLogs.Where(l => l.Id == id), ct))[0]);
    }

    private static ProblemHttpResult AnothersNumber() =>
        Problems.Conflict("flight-log-elsewhere", "Another flight's log has this number: give each flight's log a number of its own.");

    private static Task<string> NameAsync(SchoolDrillsDbContext db, Guid id, CancellationToken ct) =>
        db.People.Where(p => p.Id == id).Select(p => p.DisplayName).FirstAsync(ct);

    private static string? Problem(PutFlightLog sent)
    {
        if (sent.Events.Count > AttemptScoring.MaxEvents)
            return $"A flight's log has at most {AttemptScoring.MaxEvents} events.";
        if (sent.Events.Any(e => e is null || string.IsNullOrWhiteSpace(e.Kind) || e.Kind.Length > 60 || e.Detail?.Length > 2_000))
            return "Each of events needs a kind of at most 60 characters and may have a detail of at most 2,000.";
        if (sent.EndedAtUtc < sent.StartedAtUtc)
            return "endedAtUtc is before startedAtUtc.";
        if (sent.ClockAheadS is not (null or (>= -MostAheadS and <= MostAheadS)))
            return "clockAheadS is by how many seconds the device's clock was ahead, a year at most.";
        var times = new[] { sent.StartedAtUtc, sent.EndedAtUtc, sent.SentAtUtc }.Concat(sent.Events.Select(e => (DateTimeOffset?)e.AtUtc));
        if (times.Any(t => t?.Year is < 1980 or > 2200))
            return "A time here is of no flight: a year is before 1980 or after 2200.";
        return
            Engine.InFlight.NotedSpan.Of([sent.StartedAtUtc, sent.EndedAtUtc, .. sent.Events.Select(e => (DateTimeOffset?)e.AtUtc)])
                is { } span
            && span.EndUtc - span.StartUtc > LongestFlight
            ? "The times here are more than a day apart: send a log for each flight."
            : null;
    }
}
