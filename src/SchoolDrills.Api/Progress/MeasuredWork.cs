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
        IReadOnlyDictionary<Guid, GroupedAttempt> groups,
        CancellationToken ct
    )
    {
        // A report replaced by a newer one is no longer evidence.
        var reports = groups.Values.Select(g => g.ReportId).ToList();
        var results = await db
            .SegmentResults.VisibleTo(me)
            .Where(r => reports.Contains(r.ReportId) && r.DurationS > 0)
            .Select(r => new
            {
                r.StudentId,
                r.AttemptId,
                r.FlownAtUtc,
                r.SegmentIndex,
                r.Kind,
                r.Parameter,
                r.DurationS,
                r.WithinShare,
                r.Verdict,
            })
            .ToListAsync(ct);
        return results.ToLookup(
            r => r.StudentId,
            r => new SegmentMeasurement(
                r.AttemptId,
                groups[r.AttemptId].Group,
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
    public static async Task<IReadOnlyDictionary<Guid, GroupedAttempt>> GroupsAsync(
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
                select a.id as "Id", a.drill_version_id as "DrillVersionId", a.aircraft as "Aircraft", a.has_air_data as "HasAirData",
                  a.latest_report_id as "ReportId"
                from unnest({students.Where(me.MaySee).ToArray()}) as s (id) cross join lateral (
                  select * from attempts f where f.student_id = s.id and f.latest_report_id is not null
                  order by f.flown_at_utc desc, f.id desc limit {Newest}) a
                """
            )
            .ToListAsync(ct);
        var drills = await DrillsAsync(db, attempts.Select(a => a.DrillVersionId), ct);
        return attempts.ToDictionary(
            a => a.Id,
            a => new GroupedAttempt(
                a.ReportId,
                new(drills[a.DrillVersionId].Slug, drills[a.DrillVersionId].Level, a.Aircraft, a.HasAirData)
            )
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
        // A row for each kind of segment rather than for each student: there are many students, and few kinds.
        var counts = await db
            .Database.SqlQuery<StudentCounts>(
                $"""
                select drill_version_id as "DrillVersionId", kind as "Kind", parameter as "Parameter", aircraft as "Aircraft",
                  air_data as "AirData", array_agg(student_id) as "StudentIds", array_agg(attempts) as "Attempts",
                  array_agg(segments) as "Segments", array_agg(not_met) as "NotMet"
                from lookup.segment_counts({students.ToArray()}) group by drill_version_id, kind, parameter, aircraft, air_data
                """
            )
            .ToListAsync(ct);
        var drills = await DrillsAsync(db, counts.Select(c => c.DrillVersionId), ct);
        var tallies = counts.SelectMany(c => c.Tallies(drills[c.DrillVersionId].Level)).ToList();
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
        IReadOnlyDictionary<Guid, GroupedAttempt> groups,
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
            select new SelfRating(attempt.Id, groups[attempt.Id].Group, attempt.FlownAtUtc!.Value, own.Verdict, measured.Verdict),
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

    private sealed record NewestAttempt(Guid Id, Guid DrillVersionId, string? Aircraft, bool HasAirData, Guid ReportId);

    /// <param name="StudentIds">Null where the student is none of those asked about.</param>
    private sealed record StudentCounts(
        Guid DrillVersionId,
        string Kind,
        string Parameter,
        string? Aircraft,
        bool AirData,
        Guid?[] StudentIds,
        int[] Attempts,
        int[] Segments,
        int[] NotMet
    )
    {
        public IEnumerable<(Guid? StudentId, SegmentTally Tally)> Tallies(int level)
        {
            var group = new SegmentGroup(
                WordColumn.Parse<SegmentKind>(Kind),
                WordColumn.Parse<Parameter>(Parameter),
                level,
                Aircraft,
                AirData
            );
            return StudentIds.Select((id, n) => (id, new SegmentTally(group, Attempts[n], Segments[n], NotMet[n])));
        }
    }
}

/// <summary>What an attempt can be compared with, and the report that says how it went.</summary>
internal sealed record GroupedAttempt(Guid ReportId, AttemptGroup Group);
