using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Progress;

/// <summary>Fetches what was flown under load.</summary>
internal static class LoadWork
{
    /// <summary>Those of the attempts on which notes were taken on board.</summary>
    public static async Task<IReadOnlyList<LoadAttempt>> OfAttemptsAsync(
        SchoolDrillsDbContext db,
        IReadOnlyDictionary<Guid, GroupedAttempt> groups,
        CancellationToken ct
    )
    {
        // A report is opened once, and only where there are notes. A drill without a verdict was held by nobody, nor was it not. Ratings
        // are the student's own entries where there are any, else what an instructor noted as the student said it.
        var rows = await db
            .Database.SqlQuery<Row>(
                $"""
                select a.id as "Id", a.flown_at_utc as "FlownAtUtc", (w.told ->> 'level')::int as "Level", w.told ->> 'checks' as "Checks",
                  case when a.verdict <> 'not-measured' then a.within_share end as "WithinShare",
                  (select avg(said.rating)::float8 from (
                     select l.said_by = 'student' as own, l.rating from load_ratings l where l.attempt_id = a.id
                     union all
                     select coalesce(e.noted_by_id = a.student_id, false), e.detail::int from attempt_events e
                     where e.attempt_id = a.id and e.kind = {EventKinds.LoadRating} and e.detail ~ '^[1-5]$') said
                   group by said.own order by said.own desc limit 1) as "OwnRating"
                from unnest({groups.Keys.ToArray()}) as s (id)
                join attempts a on a.id = s.id
                cross join lateral (
                  select r.report -> 'workload' as told from score_reports r
                  where r.id = a.latest_report_id and exists (select from attempt_events e where e.attempt_id = a.id) offset 0) w
                where w.told is not null
                """
            )
            .ToListAsync(ct);
        return
        [
            .. rows.Select(r => new LoadAttempt(
                r.Id,
                groups[r.Id].Group,
                r.FlownAtUtc,
                r.Level,
                r.WithinShare,
                r.OwnRating,
                JsonSerializer.Deserialize(r.Checks, WireJson.Default.IReadOnlyListCheckResult) ?? []
            )),
        ];
    }

    private sealed record Row(Guid Id, DateTimeOffset FlownAtUtc, int Level, string Checks, double? WithinShare, double? OwnRating);
}
