using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Api.Progress;

/// <summary>Fetches what was measured, with what makes attempts comparable.</summary>
internal static class MeasuredWork
{
    /// <summary>Every measured segment of one student's newest reports.</summary>
    public static async Task<IReadOnlyList<SegmentMeasurement>> OfStudentAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        Guid studentId,
        CancellationToken ct
    )
    {
        var groups = await GroupsAsync(db, me, studentId, ct);
        // A report replaced by a newer one is no longer evidence.
        var results = await db
            .SegmentResults.AsNoTracking()
            .VisibleTo(me)
            .Where(r => r.StudentId == studentId && r.DurationS > 0 && db.Attempts.Any(a => a.LatestReportId == r.ReportId))
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

    /// <summary>What each of a student's scored attempts can be compared with.</summary>
    public static async Task<IReadOnlyDictionary<Guid, AttemptGroup>> GroupsAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        Guid studentId,
        CancellationToken ct
    )
    {
        // The source of airspeed is the one word needed of a long report.
        var withAirData = (
            await db
                .Database.SqlQuery<Guid>(
                    $"""
                    select a.id as "Value" from attempts a join score_reports r on r.id = a.latest_report_id
                    where a.student_id = {studentId} and r.report -> 'sources' ->> 'airspeed' = 'recorded'
                    """
                )
                .ToListAsync(ct)
        ).ToHashSet();
        var attempts = await db
            .Attempts.AsNoTracking()
            .VisibleTo(me)
            .Where(a => a.StudentId == studentId && a.LatestReportId != null)
            .Select(a => new { a.Id, a.DrillVersionId })
            .ToListAsync(ct);
        var versions = attempts.Select(a => a.DrillVersionId).Distinct().ToList();
        var drills = await db
            .DrillVersions.AsNoTracking()
            .Where(d => versions.Contains(d.Id))
            .ToDictionaryAsync(d => d.Id, d => (d.Slug, Level: LevelOf(d.Template)), ct);
        return attempts.ToDictionary(
            a => a.Id,
            a => new AttemptGroup(drills[a.DrillVersionId].Slug, drills[a.DrillVersionId].Level, null, withAirData.Contains(a.Id))
        );
    }

    public static int LevelOf(DrillTemplate template) => DrillLevel.Of(DrillTimeline.Resolve(template, template.Entry)).Level;
}
