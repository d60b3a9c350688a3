using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Desk;

/// <summary>
/// What waits for an instructor. Every list is read along an index and cut, so that the cost grows with what is shown and not with what
/// was ever flown.
/// </summary>
internal static class DeskEndpoint
{
    private const int UsualRows = 10,
        MostRows = 100,
        GradedRows = 8,
        SoonDays = 7,
        UnscorableDays = 30;

    public static void MapDesk(this RouteGroupBuilder api) =>
        api.MapGet("/desk", GetAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("What waits for an instructor, the longest waiting first: the first rows of each list, and how many there are");

    private static async Task<Results<Ok<DeskWork>, ProblemHttpResult>> GetAsync(
        bool? mine,
        int? rows,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (rows is < 1 or > MostRows)
            return Problems.Invalid("rows", $"rows is 1 to {MostRows}.");
        var now = clock.GetUtcNow();
        var school = await db.Schools.AsNoTracking().SingleAsync(ct);
        var today = school.Today(now);
        var whose = mine ?? !me.IsChief ? await StudentsOfAsync(db, me, ct) : null;
        var queries = new DeskQueries(db, me, whose, rows ?? UsualRows);
        var since = now.AddDays(-UnscorableDays);
        var month = new DateOnly(today.Year, today.Month, 1);

        var toFly = AssignmentEndpoints
            .ToFly(queries.Assignments)
            // A recording that could not be scored stands in its own list.
            .Where(a => a.Student.Active && !a.Attempts.Any(x => x.UploadedAtUtc >= since));
        return TypedResults.Ok(
            new DeskWork(
                whose is not null,
                await queries.ToGradeAsync(ct),
                await queries.AttemptsAsync(
                    queries.Attempts.Where(a =>
                        a.Status == AttemptStatus.Unscorable
                        && a.UploadedAtUtc >= since
                        && !db.Attempts.Any(b => b.AssignmentId == a.AssignmentId && b.UploadedAtUtc > a.UploadedAtUtc)
                    ),
                    ct
                ),
                await queries.ToFlyAsync(toFly.Where(a => a.DueOn < today), clock, ct),
                await queries.ToFlyAsync(toFly.Where(a => a.DueOn >= today && a.DueOn <= today.AddDays(SoonDays)), clock, ct),
                await queries.AttemptsAsync(
                    queries.Attempts.Where(a => a.Status == AttemptStatus.Queued || a.Status == AttemptStatus.Scoring),
                    ct
                ),
                await queries.GradedAsync(GradedRows, ct),
                whose?.Length ?? await db.People.CountAsync(p => p.Active && p.Roles.Contains(Roles.Student), ct),
                me.IsChief ? await db.DayTallies.Where(t => t.Dimension == "drill" && t.Day >= month).SumAsync(t => t.Attempts, ct) : null
            )
        );
    }

    /// <summary>Students to whom the person gave a drill that stands, as the list of students has it.</summary>
    private static Task<Guid[]> StudentsOfAsync(SchoolDrillsDbContext db, CurrentPerson me, CancellationToken ct) =>
        db
            .People.Where(p =>
                p.Active && db.Assignments.Any(a => a.StudentId == p.Id && a.AssignedById == me.Id && a.CancelledAtUtc == null)
            )
            .Select(p => p.Id)
            .ToArrayAsync(ct);
}
