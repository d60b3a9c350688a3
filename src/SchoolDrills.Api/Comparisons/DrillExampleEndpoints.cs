using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Drills;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Comparisons;

/// <summary>Whether a drill has the school's example, for whoever looks at the drill.</summary>
internal static class DrillExampleEndpoints
{
    public static void MapDrillExample(this RouteGroupBuilder api) =>
        api.MapGet("/drills/{slug}/example", GetAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("Whether the drill has the school's example, and of which attempt for those who may see that attempt");

    private static async Task<Results<Ok<DrillExampleLink>, ProblemHttpResult>> GetAsync(
        string slug,
        int? version,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (await DrillEndpoints.FindAsync(db, me, slug, version, ct) is not { } drill)
            return Problems.NotFound("drill");
        var attemptId = await db
            .DrillExamples.Where(e => e.DrillVersionId == drill.Id)
            .Select(e => (Guid?)e.AttemptId)
            .FirstOrDefaultAsync(ct);
        var isSeen = attemptId is not null && await db.Attempts.VisibleTo(me).AnyAsync(a => a.Id == attemptId, ct);
        return TypedResults.Ok(new DrillExampleLink(attemptId is not null, isSeen ? attemptId : null));
    }
}
