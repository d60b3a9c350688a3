using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Attempts;

/// <summary>Attempts as lists show them: one row each, never the report.</summary>
internal static class AttemptSummaries
{
    public static async Task<Dictionary<Guid, AttemptSummary>> ByIdAsync(
        SchoolDrillsDbContext db,
        IReadOnlyList<Guid> ids,
        bool withDrafts,
        CancellationToken ct
    ) => ids.Count == 0 ? [] : (await OfAsync(db.Attempts.Where(a => ids.Contains(a.Id)), withDrafts, ct)).ToDictionary(a => a.AttemptId);

    /// <param name="withDrafts">An unsigned grade shows as a draft: for instructors. To a student it is none.</param>
    public static async Task<List<AttemptSummary>> OfAsync(IQueryable<Attempt> attempts, bool withDrafts, CancellationToken ct)
    {
        var rows = await attempts
            .AsNoTracking()
            .Select(a => new
            {
                Attempt = a,
                Student = a.Student.DisplayName,
                a.DrillVersion.Slug,
                a.DrillVersion.Version,
                a.DrillVersion.Template,
                // All of the attempt's few grades: to ask for the last alone makes PostgreSQL number those of the whole school.
                Grades = a
                    .Grades.Where(g => withDrafts || g.SignedAtUtc != null)
                    .Select(g => new
                    {
                        g.Number,
                        g.SignedAtUtc,
                        g.Overall,
                        Acknowledged = g.Acknowledgement != null,
                    })
                    .ToList(),
            })
            .ToListAsync(ct);
        return rows.ConvertAll(r =>
        {
            var a = r.Attempt;
            var state = r.Grades.MaxBy(g => g.Number) switch
            {
                null => "none",
                { SignedAtUtc: null } => "draft",
                { Acknowledged: true } => "acknowledged",
                _ => "signed",
            };
            return new AttemptSummary(
                a.Id,
                a.AssignmentId,
                a.StudentId,
                r.Student,
                new DrillReference(r.Slug, r.Version),
                r.Template.Title,
                a.Status,
                a.Reason,
                a.UploadedAtUtc,
                a.FlownAtUtc,
                a.WithinShare,
                a.Verdict,
                state,
                a.Ribbon
            )
            {
                Grade = r.Grades.Where(g => g.SignedAtUtc is not null).MaxBy(g => g.Number)?.Overall,
            };
        });
    }
}
