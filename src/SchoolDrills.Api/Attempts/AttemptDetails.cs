using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Attempts;

/// <summary>The whole of an attempt as a person may see it.</summary>
internal static class AttemptDetails
{
    /// <returns>Null where there is none, or it is not theirs to see.</returns>
    public static async Task<AttemptDetail?> OfAsync(SchoolDrillsDbContext db, Guid id, CurrentPerson me, CancellationToken ct)
    {
        var a = await db
            .Attempts.AsNoTracking()
            .AsSplitQuery()
            .VisibleTo(me)
            .Include(x => x.Student)
            .Include(x => x.UploadedBy)
            .Include(x => x.DrillVersion)
            .Include(x => x.LatestReport)
            .Include(x => x.Grades)
                .ThenInclude(g => g.Instructor)
            .Include(x => x.Grades)
                .ThenInclude(g => g.Acknowledgement)
            .Include(x => x.Corrections)
                .ThenInclude(c => c.Person)
            .FirstOrDefaultAsync(x => x.Id == id, ct);
        if (a is null)
            return null;

        var ahead =
            a.Status == AttemptStatus.Queued
                ? await db
                    .Database.SqlQuery<int>($"select lookup.attempts_before({a.QueuedAtUtc ?? a.UploadedAtUtc}) as \"Value\"")
                    .SingleAsync(ct)
                : (int?)null;
        var events = await db
            .AttemptEvents.AsNoTracking()
            .Where(e => e.AttemptId == id)
            .OrderBy(e => e.AtUtc)
            .Select(e => new AttemptEvent(e.Id, e.Kind, e.AtUtc, e.Detail))
            .ToListAsync(ct);
        var said = await SaidLoads.OfAsync(db, a, ct);
        var assessment = await db.SelfAssessments.AsNoTracking().FirstOrDefaultAsync(s => s.AttemptId == id, ct);
        return new AttemptDetail(
            a.Id,
            a.AssignmentId,
            a.StudentId,
            a.Student.DisplayName,
            new DrillReference(a.DrillVersion.Slug, a.DrillVersion.Version),
            a.DrillVersion.Template.Title,
            a.Status,
            a.Reason,
            ahead,
            a.UploadedAtUtc,
            a.UploadedBy.DisplayName,
            a.FileName,
            a.FileBytes,
            a.Sha256,
            a.Meta,
            a.LatestReport?.Report,
            GradeViews.Of(GradeViews.SeenBy(me, a.Grades)),
            events,
            SaidLoads.Own(said)
        )
        {
            SaidLoad = said,
            Stage = a.Stage,
            Revision = a.Revision,
            ReportId = a.LatestReportId,
            EngineScore = a.LatestReport is { Corrected: true } ? await OwnReportAsync(db, id, ct) : null,
            Corrections = CorrectionViews.Of(a.Corrections),
            SelfAssessment = assessment?.View(),
            ComparableWith = (await ComparableAttempts.OfAsync(db, a, me, ct)).Offered,
        };
    }

    /// <summary>The engine's newest report without anything set by hand.</summary>
    public static Task<ScoreReport?> OwnReportAsync(SchoolDrillsDbContext db, Guid attemptId, CancellationToken ct) =>
        db
            .ScoreReports.AsNoTracking()
            .Where(r => r.AttemptId == attemptId && !r.Corrected)
            .OrderByDescending(r => r.ScoredAtUtc)
            .Select(r => r.Report)
            .FirstOrDefaultAsync(ct);
}
