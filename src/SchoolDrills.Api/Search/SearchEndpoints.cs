using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Search;

/// <summary>
/// Finding students, drills and attempts by words. What it reads does not grow with a school's history: people and the catalogue, a
/// fixed number of the newest attempts, and a few attempts of each student found.
/// </summary>
internal static class SearchEndpoints
{
    private const int LongestSearch = 100;
    private const int MostWords = 6;
    private const int MostOfAKind = 6;
    private const int NewestAttempts = 300;
    private const int OfEachStudent = 3;

    public static void MapSearch(this RouteGroupBuilder api) =>
        api.MapGet("/search", SearchAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("Students, drills and attempts that hold every word, a few of each; of attempts the newest are looked through");

    private static async Task<Results<Ok<SearchResult>, ProblemHttpResult>> SearchAsync(
        string? q,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (q?.Length > LongestSearch)
            return Problems.Invalid("q", $"q is at most {LongestSearch} characters.");
        var words = (q ?? "").Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Take(MostWords).ToArray();
        if (words.Length == 0)
            return TypedResults.Ok(new SearchResult([], [], [], NewestAttempts));
        // Signs that PostgreSQL gives a meaning mean themselves.
        string[] patterns = [.. words.Select(w => $"%{Regex.Replace(w, @"[\\%_]", @"\$0")}%")];
        var students = await StudentsAsync(me, db, patterns, ct);
        var drills = await DrillsAsync(me, db, patterns, ct);
        var attempts = await AttemptsAsync(me, db, words, students, ct);
        return TypedResults.Ok(new SearchResult(students, drills, attempts, NewestAttempts));
    }

    private static async Task<IReadOnlyList<StudentHit>> StudentsAsync(
        CurrentPerson me,
        SchoolDrillsDbContext db,
        string[] patterns,
        CancellationToken ct
    )
    {
        if (!me.IsStaff)
            return [];
        var students = db.People.AsNoTracking().Where(p => p.Active && p.Roles.Contains(Roles.Student));
        if (me.Viewer is { Visibility: not Data.Visibility.WholeSchool, Students: var own })
            students = students.Where(p => own.Contains(p.Id));
        foreach (var pattern in patterns)
            students = students.Where(p => EF.Functions.ILike(p.DisplayName, pattern));
        return await students
            .OrderBy(p => p.DisplayName)
            .ThenBy(p => p.Id)
            .Take(MostOfAKind)
            .Select(p => new StudentHit(p.Id, p.DisplayName))
            .ToListAsync(ct);
    }

    /// <summary>What the catalogue shows the person: the newest version of each drill, and drafts to those who may draft.</summary>
    private static async Task<IReadOnlyList<DrillHit>> DrillsAsync(
        CurrentPerson me,
        SchoolDrillsDbContext db,
        string[] patterns,
        CancellationToken ct
    )
    {
        var drafts = me.IsChief || (me.IsStaff && await db.Schools.AnyAsync(s => s.InstructorsDraft, ct));
        return await db
            .Database.SqlQuery<DrillHit>(
                $"""
                select slug as "Slug", title as "Title", state as "State" from (
                  select distinct on (slug, state = 'draft') slug, state, template ->> 'title' as title
                  from drill_versions
                  where state = 'published' or ({me.IsStaff} and state = 'retired') or ({drafts} and state = 'draft')
                  order by slug, state = 'draft', version desc) d
                where title || ' ' || slug ilike all ({patterns})
                order by state <> 'published', title, slug limit {MostOfAKind}
                """
            )
            .ToListAsync(ct);
    }

    private static async Task<IReadOnlyList<AttemptHit>> AttemptsAsync(
        CurrentPerson me,
        SchoolDrillsDbContext db,
        string[] words,
        IReadOnlyList<StudentHit> students,
        CancellationToken ct
    )
    {
        var visible = db.Attempts.AsNoTracking().VisibleTo(me);
        // Narrow rows first; names and titles only of what may be shown.
        var newest = await visible
            .OrderByDescending(a => a.UploadedAtUtc)
            .Take(NewestAttempts)
            .Select(a => new Row(a.Id, a.StudentId, a.DrillVersionId, a.FlownAtUtc, a.UploadedAtUtc))
            .ToListAsync(ct);
        foreach (var student in students)
        {
            newest.AddRange(
                await visible
                    .Where(a => a.StudentId == student.Id && a.FlownAtUtc != null)
                    .OrderByDescending(a => a.FlownAtUtc)
                    .Take(OfEachStudent)
                    .Select(a => new Row(a.Id, a.StudentId, a.DrillVersionId, a.FlownAtUtc, a.UploadedAtUtc))
                    .ToListAsync(ct)
            );
        }

        Guid[] versions = [.. newest.Select(a => a.DrillVersionId).Distinct()],
            people = [.. newest.Select(a => a.StudentId).Distinct()];
        var names = await db.People.Where(p => people.Contains(p.Id)).ToDictionaryAsync(p => p.Id, p => p.DisplayName, ct);
        var titles = await db
            .Database.SqlQuery<Title>(
                $"""select id as "Id", template ->> 'title' as "Text" from drill_versions where id = any ({versions})"""
            )
            .ToDictionaryAsync(t => t.Id, t => t.Text, ct);
        return
        [
            .. newest
                .DistinctBy(a => a.Id)
                .OrderByDescending(a => a.UploadedAtUtc)
                .Select(a => new AttemptHit(
                    a.Id,
                    names.GetValueOrDefault(a.StudentId, ""),
                    titles.GetValueOrDefault(a.DrillVersionId, ""),
                    a.FlownAtUtc,
                    a.UploadedAtUtc
                ))
                .Where(a => Array.TrueForAll(words, w => Holds(a, w, byName: me.IsStaff)))
                .Take(MostOfAKind),
        ];
    }

    // One's own name finds nothing: it is on all of one's flights.
    private static bool Holds(AttemptHit attempt, string word, bool byName) =>
        attempt.DrillTitle.Contains(word, StringComparison.OrdinalIgnoreCase)
        || (byName && attempt.StudentName.Contains(word, StringComparison.OrdinalIgnoreCase));

    private sealed record Row(Guid Id, Guid StudentId, Guid DrillVersionId, DateTimeOffset? FlownAtUtc, DateTimeOffset UploadedAtUtc);

    private sealed record Title(Guid Id, string Text);
}
