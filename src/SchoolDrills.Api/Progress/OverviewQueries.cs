using Microsoft.EntityFrameworkCore;
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
    /// <param name="states">Of every active student.</param>
    public static async Task<SchoolPeriod> PeriodAsync(
        SchoolDrillsDbContext db,
        IReadOnlyDictionary<Guid, Guid> states,
        Concluded<StagePlace> concluded,
        School school,
        int days,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var to = school.Today(now);
        var from = to.AddDays(1 - days);
        var titles = await DrillTitles.AllAsync(db, ct);
        var drills = await DrillsAsync(db, from, titles, ct);
        return new(
            from,
            to,
            CountedShare.Of(drills.Sum(d => d.Share.Attempts), drills.Sum(d => d.Share.NotMet)),
            drills,
            await SegmentsAsync(db, from, ct),
            await InstructorsAsync(db, from, ct),
            await AircraftAsync(db, from, ct),
            await StagesAsync(db, states, concluded, ct),
            await NotFlownAsync(db, drills, titles, ct),
            [.. drills.Where(d => d.Share.IsNearlyAll).Select(d => d.DrillSlug)]
        );
    }

    private static async Task<IReadOnlyList<DrillPeriod>> DrillsAsync(
        SchoolDrillsDbContext db,
        DateOnly from,
        IReadOnlyDictionary<string, string> titles,
        CancellationToken ct
    )
    {
        var rows = await CountsAsync(db, "drill", from, ct);
        return
        [
            .. rows.Select(r => new DrillPeriod(r.Key, titles[r.Key], r.Students, CountedShare.Of(r.Attempts, r.NotMet)))
                .OrderBy(d => d.DrillTitle, StringComparer.Ordinal),
        ];
    }

    private static async Task<IReadOnlyList<AircraftPeriod>> AircraftAsync(SchoolDrillsDbContext db, DateOnly from, CancellationToken ct)
    {
        var rows = await CountsAsync(db, "aircraft", from, ct);
        var titles = await db.Aircraft.AsNoTracking().ToDictionaryAsync(a => a.Slug, a => a.Profile.Title, ct);
        return
        [
            .. rows.Select(r => new AircraftPeriod(
                    r.Key.Length == 0 ? null : r.Key,
                    r.Key.Length == 0 ? null : titles.GetValueOrDefault(r.Key, r.Key),
                    r.Students,
                    CountedShare.Of(r.Attempts, r.NotMet)
                ))
                .OrderBy(a => a.Aircraft is null)
                .ThenBy(a => a.AircraftTitle, StringComparer.Ordinal),
        ];
    }

    private static async Task<IReadOnlyList<SegmentPeriod>> SegmentsAsync(SchoolDrillsDbContext db, DateOnly from, CancellationToken ct)
    {
        var rows = await db
            .Database.SqlQuery<SegmentCounts>(
                $"""
                select split_part(key, ' ', 1) as "Kind", split_part(key, ' ', 2) as "Parameter", sum(attempts)::integer as "Attempts",
                  sum(items)::integer as "Segments", sum(not_met)::integer as "NotMet"
                from day_tallies where dimension = 'segment' and day >= {from} group by key having sum(attempts) > 0
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
        DateOnly from,
        CancellationToken ct
    )
    {
        var people = await db
            .People.AsNoTracking()
            .Where(p => p.ErasedAtUtc == null && (p.Roles.Contains(Roles.Instructor) || p.Roles.Contains(Roles.Chief)))
            .OrderBy(p => p.DisplayName)
            .Select(p => new { p.Id, p.DisplayName })
            .ToListAsync(ct);
        var tallies = await db
            .Database.SqlQuery<InstructorTally>(
                $"""
                select dimension as "Dimension", split_part(key, ' ', 1)::uuid as "InstructorId",
                  coalesce(nullif(split_part(key, ' ', 2), '')::integer, 0) as "Days", sum(attempts)::integer as "Attempts"
                from day_tallies where dimension in ('assigned', 'graded') and day >= {from} group by dimension, key
                having sum(attempts) > 0
                """
            )
            .ToListAsync(ct);
        var assigned = tallies.Where(t => t.Dimension == "assigned").ToDictionary(t => t.InstructorId, t => t.Attempts);
        var graded = tallies.Where(t => t.Dimension == "graded").ToLookup(t => t.InstructorId, t => (t.Days, t.Attempts));
        var waiting = (
            await db
                .Database.SqlQuery<WaitingCount>(
                    $"""
                    select key::uuid as "InstructorId", attempts as "Attempts" from day_tallies
                    where dimension = 'waiting' and day = '-infinity' and key <> '' and attempts > 0
                    """
                )
                .ToListAsync(ct)
        ).ToDictionary(w => w.InstructorId, w => w.Attempts);
        return people
            .ConvertAll(p =>
            {
                var (median, reason) = MedianDays.Of(graded[p.Id]);
                return new InstructorPeriod(
                    p.Id,
                    p.DisplayName,
                    assigned.GetValueOrDefault(p.Id),
                    graded[p.Id].Sum(g => g.Attempts),
                    waiting.GetValueOrDefault(p.Id),
                    median,
                    reason
                );
            })
            .FindAll(i => i is not { Assigned: 0, Graded: 0, Waiting: 0 });
    }

    private static async Task<IReadOnlyList<StagePeriod>> StagesAsync(
        SchoolDrillsDbContext db,
        IReadOnlyDictionary<Guid, Guid> states,
        Concluded<StagePlace> concluded,
        CancellationToken ct
    )
    {
        var stages = (await Standing.StagesAsync(db, ct)).Stages;
        var places = (await Standing.PlacesAsync(db, states, concluded, stages, ct)).Values.ToLookup(p => p.StageSlug);
        return
        [
            .. stages.Select(stage =>
            {
                var here = places[stage.Slug].ToList();
                var share = CountedShare.Of(here.Sum(p => p.Evidence), here.Sum(p => p.NotMet));
                return new StagePeriod(stage.Slug, stage.Title, here.Count, here.Count(p => p.Ready), share);
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

    /// <summary>
    /// What was flown by drill or aircraft. A period ends today: who flew in it has his newest attempt in it, and is counted on its day.
    /// </summary>
    private static Task<List<Counts>> CountsAsync(SchoolDrillsDbContext db, string dimension, DateOnly from, CancellationToken ct) =>
        db
            .Database.SqlQuery<Counts>(
                $"""
                select key as "Key", sum(students)::integer as "Students", sum(attempts)::integer as "Attempts",
                  sum(not_met)::integer as "NotMet"
                from day_tallies where dimension = {dimension} and day >= {from} group by key having sum(attempts) > 0
                """
            )
            .ToListAsync(ct);

    private sealed record Counts(string Key, int Students, int Attempts, int NotMet);

    private sealed record SegmentCounts(string Kind, string Parameter, int Attempts, int Segments, int NotMet);

    private sealed record WaitingCount(Guid InstructorId, int Attempts);

    private sealed record InstructorTally(string Dimension, Guid InstructorId, int Days, int Attempts);
}
