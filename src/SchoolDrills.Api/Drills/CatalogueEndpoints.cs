using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Drills;

/// <summary>What a school flies by: drills that it retires, and its tolerance standards.</summary>
internal static class CatalogueEndpoints
{
    public static void MapCatalogue(this RouteGroupBuilder api)
    {
        api.MapPost("/drills/{slug}/retire", RetireAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Retires a drill: it is no longer assigned, its attempts stay");
        api.MapGet("/standards", StandardsAsync).RequireAuthorization(Policies.SignedIn).WithSummary("Tolerance standards of the school");
        api.MapPost("/standards", AddStandardAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Adds a tolerance standard; it never changes after, so that what was judged by it stays explainable");
        api.MapGet("/drill-template.schema.json", () => TypedResults.Text(TemplateJson.Schema, "application/schema+json"))
            .AllowAnonymous()
            .WithSummary("JSON Schema of a drill template");
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> RetireAsync(
        string slug,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var published = await db.DrillVersions.Where(d => d.Slug == slug && d.State == DrillState.Published).ToListAsync(ct);
        if (published.Count == 0)
            return Problems.NotFound("published drill");
        foreach (var drill in published)
            drill.State = DrillState.Retired;
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "drill-retired", "drill", published[^1].Id, slug));
        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }

    private static async Task<Ok<IReadOnlyList<ToleranceStandard>>> StandardsAsync(SchoolDrillsDbContext db, CancellationToken ct) =>
        TypedResults.Ok<IReadOnlyList<ToleranceStandard>>(
            await db.Standards.AsNoTracking().OrderBy(s => s.Slug).Select(s => s.Standard).ToListAsync(ct)
        );

    private static async Task<Results<Created<ToleranceStandard>, ProblemHttpResult>> AddStandardAsync(
        ToleranceStandard standard,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (standard.Problems() is [var first, ..] problems)
            return Problems.Unprocessable("standard", first, problems);
        if (await db.Standards.AnyAsync(s => s.Slug == standard.Slug, ct))
        {
            return Problems.Conflict(
                "standard-exists",
                $"There is already a standard {standard.Slug}, and standards do not change: give the new one another slug."
            );
        }

        var row = new StandardRow
        {
            SchoolId = me.SchoolId,
            Slug = standard.Slug,
            Standard = standard,
        };
        db.Standards.Add(row);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "standard-added", "standard", row.Id, standard.Slug));
        await db.SaveChangesAsync(ct);
        return TypedResults.Created("/api/v1/standards", standard);
    }
}
