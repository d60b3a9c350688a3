using Microsoft.EntityFrameworkCore;
using SchoolDrills.Engine.InFlight;

namespace SchoolDrills.Api.Attempts;

/// <summary>
/// Gives each log of an assignment to the attempt whose recording it fits, and keeps what the attempts have of them. It is the same
/// whichever comes first and however often it is done.
/// </summary>
internal static class FlightLogLinks
{
    /// <summary>
    /// Within a transaction of the caller. Whoever else links logs of the assignment waits until it ends, so that of a log and a
    /// recording that come at once the later sees the earlier.
    /// </summary>
    /// <param name="beingScored">An attempt that may have no report yet, and its recording.</param>
    /// <returns>Attempts of which the events are no longer as they were.</returns>
    public static async Task<IReadOnlyList<Guid>> LinkAsync(
        SchoolDrillsDbContext db,
        Guid assignmentId,
        (Guid AttemptId, RecordedFlight Flight)? beingScored,
        CancellationToken ct
    )
    {
        var logs = await db
            .FlightLogs.AsNoTracking()
            .Where(l => l.AssignmentId == assignmentId)
            .OrderBy(l => l.ReceivedAtUtc)
            .ThenBy(l => l.Id)
            .ToListAsync(ct);
        if (logs.Count == 0)
            return [];
        var flights = await FlightsAsync(db, assignmentId, ct);
        // What has a report is known by that until there is the next, or a log would leave it each time it is scored again.
        if (beingScored is { } scored && !flights.Exists(f => f.AttemptId == scored.AttemptId))
            flights.Insert(0, scored);

        foreach (var log in logs)
        {
            var attemptId = AttemptOf(log, flights);
            if (attemptId == log.AttemptId)
                continue;
            await db.FlightLogs.Where(l => l.Id == log.Id).ExecuteUpdateAsync(l => l.SetProperty(x => x.AttemptId, attemptId), ct);
        }

        var linked = logs.ToLookup(l => AttemptOf(l, flights));
        var changed = new List<Guid>();
        foreach (var attemptId in logs.Select(l => l.AttemptId).Concat(linked.Select(l => l.Key)).OfType<Guid>().Distinct())
        {
            if (await CopyAsync(db, attemptId, [.. linked[attemptId]], ct))
                changed.Add(attemptId);
        }

        return changed;
    }

    /// <summary>Waits for whoever links logs of the assignment, and keeps others waiting until the transaction ends.</summary>
    public static Task LockAsync(SchoolDrillsDbContext db, Guid assignmentId, CancellationToken ct) =>
        db.Database.ExecuteSqlAsync($"select pg_advisory_xact_lock(hashtextextended({$"flight logs {assignmentId}"}, 0))", ct);

    /// <summary>The recordings of an assignment that have a report, newest upload first.</summary>
    public static async Task<List<(Guid AttemptId, RecordedFlight Flight)>> FlightsAsync(
        SchoolDrillsDbContext db,
        Guid assignmentId,
        CancellationToken ct
    )
    {
        // The report is long, and four times are all that is wanted of it.
        var rows = await db
            .Database.SqlQuery<FlightRow>(
                $"""
                select a.id as "AttemptId",
                  (r.report -> 'recording' ->> 'startUtc')::timestamptz as "StartUtc",
                  (r.report -> 'recording' ->> 'endUtc')::timestamptz as "EndUtc",
                  case when r.report ->> 'found' = 'true' then (r.report ->> 'startUtc')::timestamptz end as "DrillStartUtc",
                  case when r.report ->> 'found' = 'true' then (r.report ->> 'endUtc')::timestamptz end as "DrillEndUtc"
                from attempts a join score_reports r on r.id = a.latest_report_id
                where a.assignment_id = {assignmentId} order by a.uploaded_at_utc desc, a.id
                """
            )
            .ToListAsync(ct);
        return rows.ConvertAll(r => (r.AttemptId, new RecordedFlight(r.StartUtc, r.EndUtc, r.DrillStartUtc, r.DrillEndUtc)));
    }

    /// <summary>A log stays with an attempt of which nothing is known yet, until a recording that is known fits.</summary>
    private static Guid? AttemptOf(FlightLog log, List<(Guid AttemptId, RecordedFlight Flight)> flights)
    {
        var current = flights.FindIndex(f => f.AttemptId == log.AttemptId);
        return log.Span()?.FlightAmong(flights.ConvertAll(f => f.Flight), current < 0 ? null : current) is { } place
                ? flights[place].AttemptId
            : current < 0 ? log.AttemptId
            : null;
    }

    /// <summary>Makes what an attempt has of its logs what stands in them now.</summary>
    private static async Task<bool> CopyAsync(SchoolDrillsDbContext db, Guid attemptId, IReadOnlyList<FlightLog> logs, CancellationToken ct)
    {
        var stored = await db.AttemptEvents.AsNoTracking().Where(e => e.AttemptId == attemptId).ToListAsync(ct);
        var kept = JoinedNotes.Of(
            stored.FindAll(e => e.FlightLogId is null).ConvertAll(e => new NotedEvent(e.Id, null, e.Kind, e.AtUtc, e.Detail)),
            logs.SelectMany(l => l.Events.Select(e => new NotedEvent(e.Id, l.Id, e.Kind, l.Corrected(e.AtUtc), e.Detail)))
        );
        var copies = stored.FindAll(e => e.FlightLogId is not null).ToDictionary(e => e.Id);
        var gone = copies.Keys.Except(kept.Select(e => e.Id)).ToList();
        var changed = gone.Count > 0;
        if (changed)
        {
            await db
                .AttemptEvents.Where(e => e.AttemptId == attemptId && e.FlightLogId != null && gone.Contains(e.Id))
                .ExecuteDeleteAsync(ct);
        }

        foreach (var noted in kept)
        {
            var log = logs.First(l => l.Id == noted.By);
            var copy = copies.GetValueOrDefault(noted.Id);
            var isSame = copy is not null && (copy.Kind, copy.AtUtc, copy.Detail) == (noted.Kind, noted.AtUtc, noted.Detail);
            changed |= !isSame;
            if (isSame && copy!.FlightLogId == log.Id)
                continue;
            await db.Database.ExecuteSqlAsync(
                $"""
                insert into attempt_events (attempt_id, id, school_id, kind, at_utc, detail, noted_by_id, flight_log_id)
                values ({attemptId}, {noted.Id}, {log.SchoolId}, {noted.Kind}, {noted.AtUtc}, {noted.Detail}, {log.NotedById}, {log.Id})
                on conflict (attempt_id, id) do update set kind = excluded.kind, at_utc = excluded.at_utc, detail = excluded.detail,
                    noted_by_id = excluded.noted_by_id, flight_log_id = excluded.flight_log_id
                where attempt_events.flight_log_id is not null
                """,
                ct
            );
        }

        return changed;
    }

    private sealed record FlightRow(
        Guid AttemptId,
        DateTimeOffset StartUtc,
        DateTimeOffset EndUtc,
        DateTimeOffset? DrillStartUtc,
        DateTimeOffset? DrillEndUtc
    );
}
