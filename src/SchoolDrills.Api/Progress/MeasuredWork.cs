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

    /// <summary>Every measured segment of one student's newest reports, in the groups of <see cref="GroupsAsync"/>.</summary>
    public static async Task<IReadOnlyList<SegmentMeasurement>> OfStudentAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        Guid studentId,
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
            .Where(r => reports.Contains(r.ReportId) && r.StudentId == studentId && r.DurationS > 0)
            .ToListAsync(ct);
        return
        [
            .. results.Select(r => new SegmentMeasurement(
                r.AttemptId,
                groups[r.AttemptId],
                r.FlownAtUtc,
                r.SegmentIndex,
                r.Kind,
                r.Parameter,
                r.DurationS,
                r.WithinShare,
                r.Verdict
            )),
        ];
    }

    /// <summary>What each of a student's newest scored attempts can be compared with.</summary>
    public static async Task<IReadOnlyDictionary<Guid, AttemptGroup>> GroupsAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        Guid studentId,
        CancellationToken ct
    )
    {
        var attempts = await db
            .Attempts.AsNoTracking()
            .VisibleTo(me)
            .Where(a => a.StudentId == studentId && a.LatestReportId != null)
            .OrderByDescending(a => a.FlownAtUtc)
            .ThenByDescending(a => a.Id)
            .Take(Newest)
            .Select(a => new
            {
                a.Id,
                a.DrillVersionId,
                a.Aircraft,
                a.HasAirData,
            })
            .ToListAsync(ct);
        var versions = attempts.Select(a => a.DrillVersionId).Distinct().ToList();
        var drills = await db
            .DrillVersions.AsNoTracking()
            .Where(d => versions.Contains(d.Id))
            .ToDictionaryAsync(d => d.Id, d => (d.Slug, DrillLevel.Of(d.Template).Level), ct);
        return attempts.ToDictionary(
            a => a.Id,
            a => new AttemptGroup(drills[a.DrillVersionId].Slug, drills[a.DrillVersionId].Level, a.Aircraft, a.HasAirData)
        );
    }

    /// <summary>Where a student stands with each kind of segment, against what the school's others show.</summary>
    public static async Task<IReadOnlyList<WeakSegment>> WeakSegmentsAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        Guid studentId,
        DateTimeOffset asOfUtc,
        CancellationToken ct
    )
    {
        var measured = await OfStudentAsync(db, me, studentId, await GroupsAsync(db, me, studentId, ct), ct);
        var counts = await db
            .Database.SqlQuery<OthersCount>(
                $"""
                select drill_version_id as "DrillVersionId", kind as "Kind", parameter as "Parameter", aircraft as "Aircraft",
                  air_data as "AirData", attempts as "Attempts", segments as "Segments", not_met as "NotMet"
                from lookup.segment_counts({studentId})
                """
            )
            .ToListAsync(ct);
        var versions = counts.Select(c => c.DrillVersionId).Distinct().ToList();
        var levels = await db
            .DrillVersions.AsNoTracking()
            .Where(d => versions.Contains(d.Id))
            .ToDictionaryAsync(d => d.Id, d => DrillLevel.Of(d.Template).Level, ct);
        return WeakSegments.Of(measured, counts.Select(c => c.Tally(levels[c.DrillVersionId])), asOfUtc);
    }

    /// <summary>Segments with both verdicts, where the student gave his without having seen the score.</summary>
    public static async Task<IReadOnlyList<SelfRating>> SelfRatingsAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        Guid studentId,
        IReadOnlyDictionary<Guid, AttemptGroup> groups,
        CancellationToken ct
    )
    {
        var rated = await (
            from attempt in db.Attempts.AsNoTracking().VisibleTo(me)
            join own in db.SelfAssessments on attempt.Id equals own.AttemptId
            where attempt.StudentId == studentId && attempt.FlownAtUtc != null && own.GivenAtUtc != null && own.SkippedAtUtc == null
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
            where groups.ContainsKey(attempt.Id)
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

    private sealed record OthersCount(
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
