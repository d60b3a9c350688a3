using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.Schools;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Api.Progress;

/// <summary>What the school flew and graded in the days up to today.</summary>
internal static class OverviewQueries
{
    /// <summary>The period of so many days that ends today.</summary>
    public static async Task<SchoolPeriod> PeriodAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        School school,
        int days,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var to = school.Today(now);
        var from = to.AddDays(1 - days);
        var since = school.StartOf(from);
        var titles = await DrillTitles.AllAsync(db, ct);
        var drills = await DrillsAsync(db, since, titles, ct);
        return new(
            from,
            to,
            CountedShare.Of(drills.Sum(d => d.Share.Attempts), drills.Sum(d => d.Share.NotMet)),
            drills,
            await SegmentsAsync(db, since, ct),
            await InstructorsAsync(db, school, since, ct),
            await AircraftAsync(db, since, ct),
            await StagesAsync(db, me, since, ct),
            await NotFlownAsync(db, drills, titles, ct),
            [.. drills.Where(d => d.Share.IsNearlyAll).Select(d => d.DrillSlug)]
        );
    }

    private static async Task<IReadOnlyList<DrillPeriod>> DrillsAsync(
        SchoolDrillsDbContext db,
        DateTimeOffset since,
        IReadOnlyDictionary<string, string> titles,
        CancellationToken ct
    )
    {
        var rows = await db
            .Database.SqlQuery<Counts>(
                $"""
                select v.slug as "Key", count(distinct a.student_id)::integer as "Students", count(*)::integer as "Attempts",
                  (count(*) filter (where a.verdict = 'not-met'))::integer as "NotMet"
                from attempts a join drill_versions v on v.id = a.drill_version_id
                where a.verdict is not null and a.flown_at_utc >= {since} group by v.slug
                """
            )
            .ToListAsync(ct);
        return
        [
            .. rows.Select(r => new DrillPeriod(r.Key!, titles[r.Key!], r.Students, CountedShare.Of(r.Attempts, r.NotMet)))
                .OrderBy(d => d.DrillTitle, StringComparer.Ordinal),
        ];
    }

    private static async Task<IReadOnlyList<AircraftPeriod>> AircraftAsync(
        SchoolDrillsDbContext db,
        DateTimeOffset since,
        CancellationToken ct
    )
    {
        var rows = await db
            .Database.SqlQuery<Counts>(
                $"""
                select aircraft as "Key", count(distinct student_id)::integer as "Students", count(*)::integer as "Attempts",
                  (count(*) filter (where verdict = 'not-met'))::integer as "NotMet"
                from attempts where verdict is not null and flown_at_utc >= {since} group by aircraft
                """
            )
            .ToListAsync(ct);
        var titles = await db.Aircraft.AsNoTracking().ToDictionaryAsync(a => a.Slug, a => a.Profile.Title, ct);
        return
        [
            .. rows.Select(r => new AircraftPeriod(
                    r.Key,
                    r.Key is null ? null : titles.GetValueOrDefault(r.Key, r.Key),
                    r.Students,
                    CountedShare.Of(r.Attempts, r.NotMet)
                ))
                .OrderBy(a => a.Aircraft is null)
                .ThenBy(a => a.AircraftTitle, StringComparer.Ordinal),
        ];
    }

    private static async Task<IReadOnlyList<SegmentPeriod>> SegmentsAsync(
        SchoolDrillsDbContext db,
        DateTimeOffset since,
        CancellationToken ct
    )
    {
        var rows = await db
            .Database.SqlQuery<SegmentCounts>(
                $"""
                select r.kind as "Kind", r.parameter as "Parameter", count(distinct r.attempt_id)::integer as "Attempts",
                  count(*)::integer as "Segments", (count(*) filter (where r.verdict = 'not-met'))::integer as "NotMet"
                from attempts a join segment_results r on r.report_id = a.latest_report_id
                where a.verdict is not null and a.flown_at_utc >= {since} and r.verdict <> 'not-measured' group by r.kind, r.parameter
                """
            )
            .ToListAsync(ct);
        return
        [
            .. rows.Select(r => new SegmentPeriod(
                    WordColumn.Parse<SegmentKind>(r.Kind),
                    WordColumn.Parse<Parameter>(r.Parameter),
                    r.Segments,
                    CountedShare.Of(r.Attempts, r.Segments, r.NotMet)
                ))
                .OrderByDescending(s => s.Share.NotMetShare)
                .ThenBy(s => s.SegmentKind)
                .ThenBy(s => s.Parameter),
        ];
    }

    private static async Task<IReadOnlyList<InstructorPeriod>> InstructorsAsync(
        SchoolDrillsDbContext db,
        School school,
        DateTimeOffset since,
        CancellationToken ct
    )
    {
        var people = await db
            .People.AsNoTracking()
            .Where(p => p.ErasedAtUtc == null && (p.Roles.Contains(Roles.Instructor) || p.Roles.Contains(Roles.Chief)))
            .OrderBy(p => p.DisplayName)
            .Select(p => new { p.Id, p.DisplayName })
            .ToListAsync(ct);
        var assigned = await db
            .Assignments.AsNoTracking()
            .Where(a => a.AssignedAtUtc >= since && a.CancelledAtUtc == null)
            .GroupBy(a => a.AssignedById)
            .Select(g => new { g.Key, Count = g.Count() })
            .ToDictionaryAsync(g => g.Key, g => g.Count, ct);
        var waiting = (
            await db
                .Database.SqlQuery<WaitingCount>(
                    $"""
                    select x.assigned_by_id as "InstructorId", count(*)::integer as "Attempts"
                    from attempts a join assignments x on x.id = a.assignment_id
                    where a.verdict is not null
                      and not exists (select from grades g where g.attempt_id = a.id and g.signed_at_utc is not null)
                    group by x.assigned_by_id
                    """
                )
                .ToListAsync(ct)
        ).ToDictionary(w => w.InstructorId, w => w.Attempts);
        // Of an attempt the first signature counts, whoever amended it after.
        var graded = await db
            .Database.SqlQuery<GradedDays>(
                $"""
                select g.instructor_id as "InstructorId",
                  (g.signed_at_utc at time zone {school.TimeZone})::date - (a.flown_at_utc at time zone {school.TimeZone})::date as "Days"
                from grades g join attempts a on a.id = g.attempt_id
                where g.number = 0 and g.signed_at_utc >= {since} and a.flown_at_utc is not null
                """
            )
            .ToListAsync(ct);
        var days = graded.ToLookup(g => g.InstructorId, g => g.Days);
        return people
            .ConvertAll(p =>
            {
                var (median, reason) = MedianDays.Of(days[p.Id].GroupBy(d => d).Select(g => (g.Key, g.Count())));
                return new InstructorPeriod(
                    p.Id,
                    p.DisplayName,
                    assigned.GetValueOrDefault(p.Id),
                    days[p.Id].Count(),
                    waiting.GetValueOrDefault(p.Id),
                    median,
                    reason
                );
            })
            .FindAll(i => i is not { Assigned: 0, Graded: 0, Waiting: 0 });
    }

    private static async Task<IReadOnlyList<StagePeriod>> StagesAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        DateTimeOffset since,
        CancellationToken ct
    )
    {
        var stages = (await Standing.StagesAsync(db, ct)).Stages;
        var students = await Standing.OfStudentsAsync(db, me, stages, ct);
        var flown = (
            await db
                .Database.SqlQuery<StudentCounts>(
                    $"""
                    select student_id as "StudentId", count(*)::integer as "Attempts",
                      (count(*) filter (where verdict = 'not-met'))::integer as "NotMet"
                    from attempts where verdict is not null and flown_at_utc >= {since} group by student_id
                    """
                )
                .ToListAsync(ct)
        ).ToDictionary(s => s.StudentId);
        return
        [
            .. stages.Select(stage =>
            {
                var here = students.Where(s => s.Readiness.Stage?.Slug == stage.Slug).ToList();
                var counts = here.Select(s => flown.GetValueOrDefault(s.Id)).OfType<StudentCounts>().ToList();
                return new StagePeriod(
                    stage.Slug,
                    stage.Title,
                    here.Count,
                    here.Count(s => s.Readiness.Ready),
                    CountedShare.Of(counts.Sum(c => c.Attempts), counts.Sum(c => c.NotMet))
                );
            }),
        ];
    }

    private static async Task<IReadOnlyList<DrillName>> NotFlownAsync(
        SchoolDrillsDbContext db,
        IReadOnlyList<DrillPeriod> flown,
        IReadOnlyDictionary<string, string> titles,
        CancellationToken ct
    )
    {
        var published = await db.DrillVersions.Where(d => d.State == DrillState.Published).Select(d => d.Slug).Distinct().ToListAsync(ct);
        return
        [
            .. published
                .Except(flown.Select(d => d.DrillSlug))
                .Select(slug => new DrillName(slug, titles[slug]))
                .OrderBy(d => d.DrillTitle, StringComparer.Ordinal),
        ];
    }

    private sealed record Counts(string? Key, int Students, int Attempts, int NotMet);

    private sealed record SegmentCounts(string Kind, string Parameter, int Attempts, int Segments, int NotMet);

    private sealed record StudentCounts(Guid StudentId, int Attempts, int NotMet);

    private sealed record WaitingCount(Guid InstructorId, int Attempts);

    private sealed record GradedDays(Guid InstructorId, int Days);
}
