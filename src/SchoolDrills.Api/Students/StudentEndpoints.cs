using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Progress;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Students;

/// <summary>The students a person teaches, who needs an instructor first.</summary>
internal static class StudentEndpoints
{
    private const int PageSize = 20;

    private const int LongestSearch = 100;

    public static void MapStudents(this RouteGroupBuilder api) =>
        api.MapGet("/students", ListAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Active students and what each needs of an instructor, 20 a page");

    private static async Task<Results<Ok<StudentList>, ProblemHttpResult>> ListAsync(
        QueryWord<StudentSort>? sort,
        string? search,
        bool? mine,
        bool? descending,
        int? page,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        Concluded<DrillGoing> concluded,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (ListPage.Problem(page) is { } problem)
            return problem;
        if (search?.Length > LongestSearch)
            return Problems.Invalid("search", $"search is at most {LongestSearch} characters.");
        var students = await FoundAsync(me, db, search?.Trim() ?? "", mine ?? false, ct);
        var needs = await StudentNeeds.OfAsync(me, db, concluded, students, clock.GetUtcNow(), ct);
        var shown = Ordered(needs, sort?.Value ?? StudentSort.Need, descending ?? false)
            .Skip(((page ?? 1) - 1) * PageSize)
            .Take(PageSize)
            .ToList();
        return TypedResults.Ok(
            new StudentList(
                await StudentDetails.OfAsync(me, db, shown, clock.GetUtcNow(), ct),
                page ?? 1,
                PageSize,
                needs.Count,
                [.. needs.GroupBy(s => s.Need).OrderBy(g => g.Key).Select(g => new NeedCount(g.Key, g.Count()))]
            )
        );
    }

    /// <summary>
    /// Active students whose work the person sees; only those whom he gave an assignment that stands, where they are to be his.
    /// </summary>
    private static async Task<IReadOnlyDictionary<Guid, string>> FoundAsync(
        CurrentPerson me,
        SchoolDrillsDbContext db,
        string sought,
        bool mine,
        CancellationToken ct
    )
    {
        var students = db.People.AsNoTracking().Where(p => p.Active && p.Roles.Contains(Roles.Student));
        if (me.Viewer is { Visibility: not Visibility.WholeSchool, Students: var own })
            students = students.Where(p => own.Contains(p.Id));
        if (mine)
        {
            students = students.Where(p =>
                db.Assignments.Any(a => a.StudentId == p.Id && a.AssignedById == me.Id && a.CancelledAtUtc == null)
            );
        }

        if (sought.Length > 0)
        {
            var pattern = $"%{Regex.Replace(sought, @"[\\%_]", @"\$0")}%";
            students = students.Where(p => EF.Functions.ILike(p.DisplayName, pattern) || EF.Functions.ILike(p.Email!, pattern));
        }

        return await students.ToDictionaryAsync(p => p.Id, p => p.DisplayName, ct);
    }

    /// <summary>Who has nothing to be ordered by comes last either way.</summary>
    private static IEnumerable<StudentNeeds> Ordered(IReadOnlyList<StudentNeeds> students, StudentSort sort, bool descending)
    {
        var byName = students.OrderBy(s => s.Name, StringComparer.CurrentCultureIgnoreCase).ThenBy(s => s.StudentId);
        return sort switch
        {
            StudentSort.Name => descending ? byName.Reverse() : byName,
            StudentSort.LastFlown => By(byName.OrderBy(s => s.Last.LastFlownAtUtc is null), s => s.Last.LastFlownAtUtc),
            StudentSort.Due => By(byName.OrderBy(s => s.DueOn is null), s => s.DueOn),
            StudentSort.Overdue => By(By(byName.OrderBy(_ => 0), s => s.Overdue), s => s.Open),
            StudentSort.ToGrade => By(byName.OrderBy(_ => 0), s => s.ToGrade),
            _ => descending ? ByNeed(byName).Reverse() : ByNeed(byName),
        };

        IOrderedEnumerable<StudentNeeds> By<T>(IOrderedEnumerable<StudentNeeds> ordered, Func<StudentNeeds, T> key) =>
            descending ? ordered.ThenByDescending(key) : ordered.ThenBy(key);
    }

    /// <summary>Among like needs: what is longest overdue, what waits longest, who tried most often; else who flew longest ago.</summary>
    private static IEnumerable<StudentNeeds> ByNeed(IEnumerable<StudentNeeds> byName) =>
        byName
            .OrderBy(s => s.Need)
            .ThenBy(s => s.Need == StudentNeed.Overdue ? s.DueOn : null)
            .ThenBy(s => s.Need == StudentNeed.ToGrade ? s.WaitingSinceUtc : null)
            .ThenByDescending(s => s.Need == StudentNeed.Stuck ? s.Last.Attempts : 0)
            .ThenBy(s => s.Last.LastFlownAtUtc is null)
            .ThenBy(s => s.Last.LastFlownAtUtc);
}
