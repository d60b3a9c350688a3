using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Drills;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Api.Progress;

/// <summary>Fetches what was measured, with what makes attempts comparable.</summary>
internal static class MeasuredWork
{
    /// <summary>Share of time in tolerance asked for where no standard says another.</summary>
    public const double UsualShare = 0.9;

    /// <summary>Newest attempts of a student that are looked at: what is older says little of today.</summary>
    private const int Newest = 100;

    /// <summary>Every measured segment of the newest reports, in the groups of <see cref="GroupsAsync"/>, by student.</summary>
    public static async Task<ILookup<Guid, SegmentMeasurement>> OfAttemptsAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        IReadOnlyDictionary<Guid, AttemptGroup> groups,
        CancellationToken ct
    )
    {
        // A report replaced by a newer one is no longer evidence.
        var ids = groups.Keys.ToList();
        var reports = await db.Attempts.Where(a => ids.Contains(a.Id)).Select(a => a.LatestReportId!.Value).ToListAsync(ct);
        var results = await db
            .SegmentResults.AsNoTracking()
            .VisibleTo(me)
            .Where(r => reports.Contains(r.ReportId) && r.DurationS > 0)
            .ToListAsync(ct);
        return results.ToLookup(
            r => r.StudentId,
            r => new SegmentMeasurement(
                r.AttemptId,
                groups[r.AttemptId],
                r.FlownAtUtc,
                r.SegmentIndex,
                r.Kind,
                r.Parameter,
                r.DurationS,
                r.WithinShare,
                r.Verdict
            )
        );
    }

    /// <summary>What each of the students' newest scored attempts can be compared with.</summary>
    public static async Task<IReadOnlyDictionary<Guid, AttemptGroup>> GroupsAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        IReadOnlyList<Guid> students,
        CancellationToken ct
    )
    {
        // Along an index for each student, whatever was flown before: EF would number the attempts of the whole school.
        var attempts = await db
            .Database.SqlQuery<NewestAttempt>(
                $"""
                select a.id as "Id", a.drill_version_id as "DrillVersionId", a.aircraft as "Aircraft", a.has_air_data as "HasAirData"
                from unnest({students.Where(me.MaySee).ToArray()}) as s (id) cross join lateral (
                  select * from attempts f where f.student_id = s.id and f.latest_report_id is not null
                  order by f.flown_at_utc desc, f.id desc limit {Newest}) a
                """
            )
            .ToListAsync(ct);
        var drills = await DrillsAsync(db, attempts.Select(a => a.DrillVersionId), ct);
        return attempts.ToDictionary(
            a => a.Id,
            a => new AttemptGroup(drills[a.DrillVersionId].Slug, drills[a.DrillVersionId].Level, a.Aircraft, a.HasAirData)
        );
    }

    /// <summary>Where each student stands with each kind of segment, against what the school's others show.</summary>
    public static async Task<IReadOnlyDictionary<Guid, IReadOnlyList<WeakSegment>>> WeakSegmentsAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        IReadOnlyList<Guid> students,
        DateTimeOffset asOfUtc,
        CancellationToken ct
    )
    {
        var measured = await OfAttemptsAsync(db, me, await GroupsAsync(db, me, students, ct), ct);
        // With nothing flown there is nothing weak.
        if (measured.Count == 0)
            return students.ToDictionary(id => id, _ => (IReadOnlyList<WeakSegment>)[]);
        var counts = await db
            .Database.SqlQuery<StudentCount>(
                $"""
                select student_id as "StudentId", drill_version_id as "DrillVersionId", kind as "Kind", parameter as "Parameter",
                  aircraft as "Aircraft", air_data as "AirData", attempts as "Attempts", segments as "Segments", not_met as "NotMet"
                from lookup.segment_counts({students.ToArray()})
                """
            )
            .ToListAsync(ct);
        var drills = await DrillsAsync(db, counts.Select(c => c.DrillVersionId), ct);
        var tallies = counts.ConvertAll(c => (c.StudentId, Tally: c.Tally(drills[c.DrillVersionId].Level)));
        return students.ToDictionary(
            id => id,
            id => WeakSegments.Of(measured[id], tallies.Where(t => t.StudentId != id).Select(t => t.Tally), asOfUtc)
        );
    }

    private static async Task<Dictionary<Guid, (string Slug, int Level)>> DrillsAsync(
        SchoolDrillsDbContext db,
        IEnumerable<Guid> versionIds,
        CancellationToken ct
    )
    {
        var ids = versionIds.Distinct().ToList();
        return await db
            .DrillVersions.AsNoTracking()
            .Where(d => ids.Contains(d.Id))
            .ToDictionaryAsync(d => d.Id, d => (d.Slug, DrillLevel.Of(d.Template).Level), ct);
    }

    /// <summary>Segments with both verdicts, where the student gave his without having seen the score.</summary>
    public static async Task<IReadOnlyList<SelfRating>> SelfRatingsAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        IReadOnlyDictionary<Guid, AttemptGroup> groups,
        CancellationToken ct
    )
    {
        var ids = groups.Keys.ToList();
        var rated = await (
            from attempt in db.Attempts.AsNoTracking().VisibleTo(me)
            join own in db.SelfAssessments on attempt.Id equals own.AttemptId
            where ids.Contains(attempt.Id) && attempt.FlownAtUtc != null && own.GivenAtUtc != null && own.SkippedAtUtc == null
            select new
            {
                attempt.Id,
                attempt.FlownAtUtc,
                attempt.Ribbon,
                own.Segments,
            }
        ).ToListAsync(ct);
        return
        [
            .. from attempt in rated
            from own in attempt.Segments
            from measured in attempt.Ribbon
            where own.Index == measured.Index
            select new SelfRating(attempt.Id, groups[attempt.Id], attempt.FlownAtUtc!.Value, own.Verdict, measured.Verdict),
        ];
    }

    /// <summary>The drills that can be assigned, each in its newest version, by slug.</summary>
    public static async Task<IReadOnlyDictionary<string, DrillCandidate>> CandidatesAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        var published = await db.DrillVersions.AsNoTracking().Where(d => d.State == DrillState.Published).ToListAsync(ct);
        return published.GroupBy(d => d.Slug).Select(g => DrillCandidate.Of(g.MaxBy(d => d.Version)!.Template)).ToDictionary(d => d.Slug);
    }

    /// <summary>What the wire says of a drill to fly next.</summary>
    public static NextDrillSuggestion Suggestion(NextDrill next, IReadOnlyDictionary<string, DrillCandidate> drills) =>
        new(next.DrillSlug, next.Why, drills[next.DrillSlug].Title, next.ExpectedMetShare);

    private sealed record NewestAttempt(Guid Id, Guid DrillVersionId, string? Aircraft, bool HasAirData);

    private sealed record StudentCount(
        Guid? StudentId,
        Guid DrillVersionId,
        string Kind,
        string Parameter,
        string? Aircraft,
        bool AirData,
        int Attempts,
        int Segments,
        int NotMet
    )
    {
        public SegmentTally Tally(int level) =>
            new(
                new SegmentGroup(WordColumn.Parse<SegmentKind>(Kind), WordColumn.Parse<Parameter>(Parameter), level, Aircraft, AirData),
                Attempts,
                Segments,
                NotMet
            );
    }
}
