using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Assignments;

/// <summary>What helps to choose a drill for a student.</summary>
internal static class AssignmentChoices
{
    /// <summary>Students times drills that are answered at once: what a page shows, not a school.</summary>
    public const int PairsAtOnce = 200;

    public static async Task<Results<Ok<IReadOnlyList<BeforeAssigning>>, ProblemHttpResult>> BeforeAsync(
        string[] studentIds,
        string[] drillSlugs,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        // What is no student's id is no student: nothing is known before of either.
        var students = studentIds
            .Select(s => Guid.TryParse(s, out var id) ? id : Guid.Empty)
            .Where(id => id != Guid.Empty)
            .Distinct()
            .ToList();
        var slugs = drillSlugs.Distinct().ToList();
        if (students.Count * slugs.Count > PairsAtOnce)
        {
            return Problems.Invalid(
                "before",
                $"Name students in studentIds and drills in drillSlugs, at most {PairsAtOnce} when multiplied with each other."
            );
        }

        var pairs = students.SelectMany(_ => slugs, (student, slug) => (student, slug)).ToList();
        var last = await LastAttempts.OfAsync(db, me, pairs, ct);
        var toFly = AssignmentEndpoints
            .ToFly(db.Assignments.VisibleTo(me))
            .Where(a => students.Contains(a.StudentId) && slugs.Contains(a.DrillVersion.Slug));
        // Due first, first.
        var open = (await AssignmentEndpoints.SummariesAsync(toFly, me, db, clock, ct))
            .GroupBy(a => (a.StudentId, a.DrillSlug))
            .ToDictionary(g => g.Key, g => g.First());
        return TypedResults.Ok<IReadOnlyList<BeforeAssigning>>([
            .. pairs.Select(p => new BeforeAssigning(p.student, p.slug, last.GetValueOrDefault(p), open.GetValueOrDefault(p))),
        ]);
    }
}
