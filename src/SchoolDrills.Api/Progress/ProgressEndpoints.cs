using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Progress;

/// <summary>A student's way toward the standard.</summary>
internal static class ProgressEndpoints
{
    private const double UsualShare = 0.9;

    public static void MapProgress(this RouteGroupBuilder api) =>
        api.MapGet("/students/{id:guid}/progress", ProgressAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("Share of time in tolerance over attempts, by parameter");

    private static async Task<Results<Ok<StudentProgress>, ProblemHttpResult>> ProgressAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        var student = me.MaySee(id)
            ? await db.People.AsNoTracking().Where(p => p.Id == id).Select(p => new { p.DisplayName, p.Roles }).FirstOrDefaultAsync(ct)
            : null;
        if (student is null || !student.Roles.Contains(Roles.Student))
            return Problems.NotFound("student");

        // A report replaced by a newer one is no longer evidence.
        var measured = await db
            .SegmentResults.AsNoTracking()
            .VisibleTo(me)
            .Where(r =>
                r.StudentId == id && r.WithinShare != null && r.DurationS > 0 && db.Attempts.Any(a => a.LatestReportId == r.ReportId)
            )
            .Select(r => new MeasuredSegment(r.AttemptId, r.DrillSlug, r.FlownAtUtc, r.Parameter, r.DurationS, r.WithinShare!.Value))
            .ToListAsync(ct);
        return TypedResults.Ok(
            new StudentProgress(id, student.DisplayName, ParameterShares.Of(measured, await RequiredShareAsync(db, id, ct)))
        );
    }

    /// <summary>What the standard of the newest scored attempt asks for, the usual share before the first.</summary>
    private static async Task<double> RequiredShareAsync(SchoolDrillsDbContext db, Guid studentId, CancellationToken ct)
    {
        var newest = await db
            .Attempts.AsNoTracking()
            .Where(a => a.StudentId == studentId && a.Status == AttemptStatus.Scored)
            .OrderByDescending(a => a.FlownAtUtc)
            .Select(a => new
            {
                a.DrillVersion.Template,
                Overrides = db.Assignments.Where(x => x.Id == a.AssignmentId).Select(x => x.Overrides).FirstOrDefault(),
            })
            .FirstOrDefaultAsync(ct);
        if (newest is null)
            return UsualShare;
        var slug = AttemptScoring.StandardSlug(newest.Template, newest.Overrides);
        var standard = await db.Standards.AsNoTracking().Where(s => s.Slug == slug).Select(s => s.Standard).FirstOrDefaultAsync(ct);
        return standard?.RequiredShare ?? UsualShare;
    }
}
