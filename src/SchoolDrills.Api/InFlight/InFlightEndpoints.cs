using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.InFlight;

/// <summary>What happened on board, sent by a device that may send it twice: each is put under its own number.</summary>
internal static class InFlightEndpoints
{
    public static void MapInFlight(this RouteGroupBuilder api)
    {
        var attempts = api.MapGroup("/attempts/{id:guid}").RequireAuthorization(Policies.SignedIn);
        attempts.MapPut("/events/{eventId:guid}", PutEventAsync).WithSummary("Keeps an event; sending it twice keeps it once");
        attempts
            .MapPut("/load-ratings/{number:int}", PutRatingAsync)
            .WithSummary("Keeps the n-th load rating, 1 to 5: the student's own, or an instructor's beside it");
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> PutEventAsync(
        Guid id,
        Guid eventId,
        PutEvent sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        AttemptRescoring rescoring,
        CancellationToken ct
    )
    {
        if (string.IsNullOrWhiteSpace(sent.Kind) || sent.Kind.Length > 60)
            return Problems.Invalid("event-kind", "An event needs a kind of at most 60 characters.");
        if (sent.Detail?.Length > 2000)
            return Problems.Invalid("event-detail", "The detail of an event is at most 2,000 characters.");
        if (!await MaySeeAsync(id, me, db, ct))
            return Problems.NotFound("attempt");
        if (
            await db.AttemptEvents.CountAsync(e => e.AttemptId == id && e.FlightLogId == null, ct) >= AttemptScoring.MaxEvents
            && !await db.AttemptEvents.AnyAsync(e => e.AttemptId == id && e.Id == eventId && e.FlightLogId == null, ct)
        )
        {
            return Problems.Unprocessable(
                "too-many-events",
                $"An attempt has at most {AttemptScoring.MaxEvents} events: this one is full."
            );
        }

        var changed = await db.Database.ExecuteSqlAsync(
            $"""
            insert into attempt_events (attempt_id, id, school_id, kind, at_utc, detail, noted_by_id)
            values ({id}, {eventId}, {me.SchoolId}, {sent.Kind}, {sent.AtUtc.ToUniversalTime()}, {sent.Detail}, {me.Id})
            on conflict (attempt_id, id) do update set kind = excluded.kind, at_utc = excluded.at_utc, detail = excluded.detail,
                noted_by_id = excluded.noted_by_id, flight_log_id = null
            where (attempt_events.kind, attempt_events.at_utc, attempt_events.detail)
                is distinct from (excluded.kind, excluded.at_utc, excluded.detail) or attempt_events.flight_log_id is not null
            """,
            ct
        );
        // Sent after the flight was scored: it is re-scored. One that waits to be scored will see it anyway.
        if (changed > 0 && await db.Attempts.FirstOrDefaultAsync(a => a.Id == id && a.Status != AttemptStatus.Queued, ct) is { } attempt)
            await rescoring.QueueAsync(attempt, ct);
        return TypedResults.NoContent();
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> PutRatingAsync(
        Guid id,
        int number,
        PutLoadRating sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (number is < 1 or > 100 || sent.Rating is < 1 or > 5)
            return Problems.Invalid("load-rating", "A load rating is 1 to 5, numbered from 1.");
        var studentId = await db.Attempts.VisibleTo(me).Where(a => a.Id == id).Select(a => (Guid?)a.StudentId).FirstOrDefaultAsync(ct);
        if (studentId is null)
            return Problems.NotFound("attempt");
        var by = (studentId == me.Id ? LoadSource.Student : LoadSource.Instructor).Word();
        await db.Database.ExecuteSqlAsync(
            $"""
            insert into load_ratings (attempt_id, number, said_by, entered_by_id, school_id, rating)
            values ({id}, {number}, {by}, {me.Id}, {me.SchoolId}, {sent.Rating})
            on conflict (attempt_id, number, said_by) do update set rating = excluded.rating, entered_by_id = excluded.entered_by_id
            """,
            ct
        );
        return TypedResults.NoContent();
    }

    private static Task<bool> MaySeeAsync(Guid id, CurrentPerson me, SchoolDrillsDbContext db, CancellationToken ct) =>
        db.Attempts.VisibleTo(me).AnyAsync(a => a.Id == id, ct);
}
