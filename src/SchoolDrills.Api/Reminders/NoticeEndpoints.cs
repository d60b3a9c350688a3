using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Notices;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Reminders;

/// <summary>What one is told, and that one has read it.</summary>
internal static class NoticeEndpoints
{
    private const int PageSize = 30,
        MostPages = 10_000;

    public static void MapNotices(this RouteGroupBuilder api)
    {
        var notices = api.MapGroup("/me/notices").RequireAuthorization(Policies.SignedIn);
        notices.MapGet("", ListAsync).WithSummary("One's own notices, the newest first; all, or the unread ones");
        notices.MapGet("/count", CountAsync).WithSummary("How many of one's own notices are unread");
        notices.MapPost("/read", ReadAsync).WithSummary("Marks notices as read: those named, or all");
    }

    private static async Task<Results<Ok<NoticePage>, ProblemHttpResult>> ListAsync(
        bool? unread,
        int? page,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (page is < 1 or > MostPages)
            return Problems.Invalid("page", $"page is between 1 and {MostPages}.");
        var mine = Standing(db, me).Where(n => unread != true || n.ReadAtUtc == null);
        var items = await mine.OrderByDescending(n => n.MadeAtUtc)
            .ThenByDescending(n => n.Id)
            .Skip(((page ?? 1) - 1) * PageSize)
            .Take(PageSize)
            .Select(n => new NoticeSummary(
                n.Id,
                n.Kind,
                n.DrillTitle,
                n.StudentId,
                db.People.Where(p => p.Id == n.StudentId).Select(p => p.DisplayName).First(),
                n.AssignmentId,
                n.AttemptId,
                n.DueOn,
                n.MadeAtUtc,
                n.ReadAtUtc != null
            ))
            .ToListAsync(ct);
        return TypedResults.Ok(new NoticePage(items, page ?? 1, PageSize, await mine.CountAsync(ct), await UnreadAsync(db, me, ct)));
    }

    private static async Task<Ok<NoticeCount>> CountAsync(CurrentPerson me, SchoolDrillsDbContext db, CancellationToken ct) =>
        TypedResults.Ok(new NoticeCount(await UnreadAsync(db, me, ct)));

    private static async Task<Results<Ok<NoticeCount>, ProblemHttpResult>> ReadAsync(
        ReadNotices sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var ids = sent.Ids ?? [];
        if (ids.Count > 1000)
            return Problems.Invalid("ids", "Name at most 1,000 notices in ids, or send all as true.");
        if (!sent.All && ids.Count == 0)
            return Problems.Invalid("ids", "Name the notices in ids, or send all as true.");
        var now = clock.GetUtcNow();
        await db
            .Notices.Where(n => n.PersonId == me.Id && n.ReadAtUtc == null && (sent.All || ids.Contains(n.Id)))
            .ExecuteUpdateAsync(set => set.SetProperty(n => n.ReadAtUtc, now), ct);
        return TypedResults.Ok(new NoticeCount(await UnreadAsync(db, me, ct)));
    }

    private static Task<int> UnreadAsync(SchoolDrillsDbContext db, CurrentPerson me, CancellationToken ct) =>
        Standing(db, me).CountAsync(n => n.ReadAtUtc == null, ct);

    /// <summary>Without what nobody read before the work was flown or cancelled; the sweep deletes it by and by.</summary>
    private static IQueryable<Notice> Standing(SchoolDrillsDbContext db, CurrentPerson me)
    {
        var toFly = AssignmentEndpoints.ToFly(db.Assignments);
        return db.Notices.Where(n =>
            n.PersonId == me.Id && (n.ReadAtUtc != null || n.AssignmentId == null || toFly.Any(a => a.Id == n.AssignmentId))
        );
    }
}
