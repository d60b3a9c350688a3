using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Attempts;

/// <summary>How drills went last, for lists of students and drills.</summary>
internal static class LastAttempts
{
    /// <summary>
    /// The newest scored attempt of each student at each drill, whatever its version; none where there is none, or the person may not see
    /// the student's work. One step along an index for each pair and version, however long the history.
    /// </summary>
    public static async Task<Dictionary<(Guid StudentId, string DrillSlug), AttemptSummary>> OfAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        IEnumerable<(Guid StudentId, string DrillSlug)> pairs,
        CancellationToken ct
    )
    {
        var seen = pairs.Where(p => me.MaySee(p.StudentId)).Distinct().ToList();
        if (seen.Count == 0)
            return [];
        Guid[] students = [.. seen.Select(p => p.StudentId)];
        string[] drills = [.. seen.Select(p => p.DrillSlug)];
        var ids = await db
            .Database.SqlQuery<Guid>(
                $"""
                select l.id as "Value" from unnest({students}, {drills}) as p (student, drill) cross join lateral (
                  select f.id from drill_versions v cross join lateral (
                    select a.id, a.flown_at_utc from attempts a
                    where a.student_id = p.student and a.drill_version_id = v.id and a.verdict is not null
                    order by a.flown_at_utc desc limit 1) f
                  where v.slug = p.drill order by f.flown_at_utc desc limit 1) l
                """
            )
            .ToListAsync(ct);
        var known = await AttemptSummaries.ByIdAsync(db, ids, me.IsStaff, ct);
        return known.Values.ToDictionary(a => (a.StudentId, a.Drill.Slug));
    }
}
