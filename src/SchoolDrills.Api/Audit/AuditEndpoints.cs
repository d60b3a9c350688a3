using System.Globalization;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Audit;

/// <summary>The audit trail as the chief reads it.</summary>
internal static class AuditEndpoints
{
    private const int PageSize = 50;

    public static void MapAudit(this RouteGroupBuilder api)
    {
        var school = api.MapGroup("/school").RequireAuthorization(Policies.ChiefInPerson);
        school
            .MapGet("/audit", PageAsync)
            .WithSummary("Who did what to what, when and from where; newest first. from and to are days at the school");
        school
            .MapGet("/audit/export", ExportAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("The same as a file: format is csv or json")
            .Produces(StatusCodes.Status200OK, contentType: "text/csv");
    }

    private static async Task<Results<Ok<AuditPage>, ProblemHttpResult>> PageAsync(
        DateOnly? from,
        DateOnly? to,
        Guid? who,
        string? what,
        int? page,
        long? after,
        SchoolDrillsDbContext db,
        HttpContext http,
        CancellationToken ct
    )
    {
        if (ListPage.Problem(page) is { } problem)
            return problem;
        var asked = await AskedAsync(db, from, to, who, what, ct);
        var lines = await Lines(
                db,
                NewestFirst(asked.Where(e => after == null || e.Id < after))
                    .Skip(after is null ? ((page ?? 1) - 1) * PageSize : 0)
                    .Take(PageSize + 1)
            )
            .ToListAsync(ct);
        var shown = ListPage.ShowBefore(
            [.. lines.OrderByDescending(l => l.Id)],
            PageSize,
            http,
            l => l.Id.ToString(CultureInfo.InvariantCulture)
        );
        var (total, more) = await ListPage.CountAsync(NewestFirst(asked), page, PageSize, ct);
        return TypedResults.Ok(new AuditPage(shown, page ?? 1, PageSize, total, await ActionsAsync(db, ct), more));
    }

    private static IOrderedQueryable<AuditEntry> NewestFirst(IQueryable<AuditEntry> entries) =>
        entries.OrderByDescending(e => e.SchoolId).ThenByDescending(e => e.Id);

    /// <summary>Each action once, by steps along the index from one to the next: a distinct would read the whole trail.</summary>
    private static Task<List<string>> ActionsAsync(SchoolDrillsDbContext db, CancellationToken ct) =>
        db
            .Database.SqlQuery<string>(
                $"""
                with recursive action as (
                  (select action as "Value" from audit_entries order by school_id, action limit 1)
                  union all
                  select (select e.action from audit_entries e where e.action > a."Value" order by e.school_id, e.action limit 1)
                  from action a where a."Value" is not null
                )
                select "Value" from action where "Value" is not null order by "Value"
                """
            )
            .ToListAsync(ct);

    private static async Task<Results<PushStreamHttpResult, ProblemHttpResult>> ExportAsync(
        [Words("csv", "json")] string? format,
        DateOnly? from,
        DateOnly? to,
        Guid? who,
        string? what,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (format is not (null or "csv" or "json"))
            return Problems.Invalid("format", $"format is csv or json, not '{format}'.");
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "audit-exported", "school", me.SchoolId, format ?? "csv"));
        await db.SaveChangesAsync(ct);
        var lines = Lines(db, (await AskedAsync(db, from, to, who, what, ct)).OrderBy(e => e.Id)).AsAsyncEnumerable();
        return format == "json"
            ? TypedResults.Stream(
                body => JsonSerializer.SerializeAsync(body, lines, WireJson.Default.IAsyncEnumerableAuditLine, ct),
                "application/json",
                "audit.json"
            )
            : TypedResults.Stream(body => WriteCsvAsync(body, lines, ct), "text/csv; charset=utf-8", "audit.csv");
    }

    private static async Task WriteCsvAsync(Stream body, IAsyncEnumerable<AuditLine> lines, CancellationToken ct)
    {
        await using var text = new StreamWriter(body, new UTF8Encoding(encoderShouldEmitUTF8Identifier: true), leaveOpen: true);
        await text.WriteAsync(Csv.Line("at (UTC)", "who", "what", "subject", "subject id", "detail", "address", "program", "changes"));
        await foreach (var line in lines.WithCancellation(ct))
        {
            await text.WriteAsync(
                Csv.Line(
                    line.AtUtc.UtcDateTime.ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture),
                    line.Who ?? "SchoolDrills",
                    line.What,
                    line.Subject,
                    line.SubjectId.ToString(),
                    line.Detail,
                    line.Ip,
                    line.UserAgent,
                    string.Join("; ", line.Changes.Select(c => $"{c.Field}: {c.Before ?? "nothing"} -> {c.After ?? "nothing"}"))
                )
            );
        }
    }

    private static async Task<IQueryable<AuditEntry>> AskedAsync(
        SchoolDrillsDbContext db,
        DateOnly? from,
        DateOnly? to,
        Guid? who,
        string? what,
        CancellationToken ct
    )
    {
        var school = await db.Schools.AsNoTracking().SingleAsync(ct);
        var (start, end) = (
            from is { } first ? school.StartOf(Kept(first)) : (DateTimeOffset?)null,
            to is { } last ? school.StartOf(Kept(last).AddDays(1)) : (DateTimeOffset?)null
        );
        return db
            .AuditEntries.AsNoTracking()
            .Where(e =>
                (start == null || e.AtUtc >= start)
                && (end == null || e.AtUtc < end)
                && (who == null || e.PersonId == who || e.SubjectId == who)
                && (string.IsNullOrEmpty(what) || e.Action == what)
            );
    }

    /// <summary>A day with one before and one after it, in any zone; nothing happened before or will after.</summary>
    private static DateOnly Kept(DateOnly day) => day.Year is 1 or 9999 ? new DateOnly(day.Year is 1 ? 2 : 9998, 6, 1) : day;

    private static IQueryable<AuditLine> Lines(SchoolDrillsDbContext db, IQueryable<AuditEntry> entries) =>
        from e in entries
        join p in db.People on e.PersonId equals p.Id into people
        from p in people.DefaultIfEmpty()
        select new AuditLine(
            e.Id,
            e.AtUtc,
            e.PersonId,
            p == null ? null : p.DisplayName,
            e.Action,
            e.Subject,
            e.SubjectId,
            e.Detail,
            e.Ip,
            e.UserAgent,
            e.Changes
        );
}
