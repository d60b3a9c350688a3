using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Attempts;

/// <summary>Reading attempts: lists, the whole of one, its plot columns and its bytes as they were sent.</summary>
internal static class AttemptEndpoints
{
    private const int PageSize = 25;

    public static void MapAttempts(this RouteGroupBuilder api)
    {
        var attempts = api.MapGroup("/attempts").RequireAuthorization(Policies.SignedIn);
        attempts.MapGet("", ListAsync).WithSummary("Attempts, newest first, 25 a page");
        attempts.MapGet("/{id:guid}", GetAsync).WithSummary("An attempt with its status, report, grade and what was entered with it");
        attempts
            .MapGet("/{id:guid}/reports/{reportId:guid}", ReportAsync)
            .WithSummary("A report by its number: the one that a grade was signed against stays to be read");
        attempts
            .MapGet("/{id:guid}/track", TrackAsync)
            .WithSummary("The reconstructed flight as columns, in JSON or, for application/octet-stream, in binary")
            .Produces<TrackColumns>()
            .Produces(StatusCodes.Status200OK, contentType: PlotFormat.MediaType)
            .ProducesProblem(StatusCodes.Status404NotFound);
        attempts.MapGet("/{id:guid}/track/original", OriginalAsync).WithSummary("The uploaded bytes, unchanged");
    }

    private static async Task<Results<Ok<AttemptPage>, ProblemHttpResult>> ListAsync(
        Guid? studentId,
        string? drillSlug,
        QueryWord<AttemptStatus>? status,
        int? page,
        string? after,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        HttpContext http,
        CancellationToken ct
    )
    {
        if (ListPage.Problem(page) is { } problem)
            return problem;
        if (!AttemptKey.TryRead(after, out var key))
            return Problems.Invalid("after", "after is what the Link header of the page before has.");
        if (studentId is { } asked && !me.MaySee(asked))
            return Problems.NotFound("student");
        var wanted = status?.Value;
        var query = db
            .Attempts.VisibleTo(me)
            .Where(a =>
                (studentId == null || a.StudentId == studentId)
                && (drillSlug == null || a.DrillVersion.Slug == drillSlug)
                && (wanted == null || a.Status == wanted)
            );
        var (total, more) = await ListPage.CountAsync(NewestFirst(query), page, PageSize, ct);
        if (key is var (at, last))
        {
            query = query.Where(a => EF.Functions.LessThan(ValueTuple.Create(a.PlacedAtUtc, a.Id), ValueTuple.Create(at, last)));
        }

        var items = await AttemptSummaries.OfAsync(
            NewestFirst(query).Skip(key is null ? ((page ?? 1) - 1) * PageSize : 0).Take(PageSize + 1),
            me.IsStaff,
            ct
        );
        var shown = ListPage.ShowBefore(items, PageSize, http, a => AttemptKey.Of(a).ToString());
        return TypedResults.Ok(new AttemptPage(shown, page ?? 1, PageSize, total, more));
    }

    private static IOrderedQueryable<Attempt> NewestFirst(IQueryable<Attempt> attempts) =>
        attempts.OrderByDescending(a => a.PlacedAtUtc).ThenByDescending(a => a.Id);

    private static async Task<Results<Ok<AttemptDetail>, ProblemHttpResult>> GetAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    ) => await AttemptDetails.OfAsync(db, id, me, ct) is { } detail ? TypedResults.Ok(detail) : Problems.NotFound("attempt");

    private static async Task<Results<Ok<ScoreReport>, ProblemHttpResult>> ReportAsync(
        Guid id,
        Guid reportId,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        var report = await db
            .Attempts.VisibleTo(me)
            .Where(a => a.Id == id)
            .Join(db.ScoreReports.Where(r => r.Id == reportId), a => a.Id, r => r.AttemptId, (a, r) => r.Report)
            .FirstOrDefaultAsync(ct);
        return report is null ? Problems.NotFound("report") : TypedResults.Ok(report);
    }

    private static async Task<IResult> TrackAsync(
        Guid id,
        HttpRequest request,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        var plot = await db
            .Attempts.VisibleTo(me)
            .Where(a => a.Id == id)
            .Join(db.TrackPlots, a => a.LatestReportId, p => p.ReportId, (a, p) => p.Columns)
            .FirstOrDefaultAsync(ct);
        if (plot is null)
            return Problems.NotFound("scored attempt");
        return request.GetTypedHeaders().Accept.Any(a => a.MediaType.Equals(PlotFormat.MediaType, StringComparison.OrdinalIgnoreCase))
            ? TypedResults.Bytes(plot, PlotFormat.MediaType)
            : TypedResults.Ok(PlotFormat.Read(plot));
    }

    private static async Task<Results<FileStreamHttpResult, ProblemHttpResult>> OriginalAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        var found = await db
            .Attempts.AsNoTracking()
            .VisibleTo(me)
            .Where(a => a.Id == id)
            .Join(db.TrackFiles, a => a.Id, f => f.AttemptId, (a, f) => new { a.FileName, File = f })
            .FirstOrDefaultAsync(ct);
        return found is null
            ? Problems.NotFound("attempt")
            : TypedResults.Stream(found.File.OpenOriginal(), PlotFormat.MediaType, found.FileName);
    }
}
