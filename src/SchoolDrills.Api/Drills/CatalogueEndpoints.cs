using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Drills;

/// <summary>Retiring drills, and the form of a drill.</summary>
internal static class CatalogueEndpoints
{
    public static void MapCatalogue(this RouteGroupBuilder api)
    {
        api.MapPost("/drills/{slug}/retire", RetireAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Retires a drill: it is no longer assigned, its attempts stay");
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
}
