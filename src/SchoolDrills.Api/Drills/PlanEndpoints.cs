using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Planning;

namespace SchoolDrills.Api.Drills;

/// <summary>Aircraft profiles of the school, and fitting a drill to aeroplane, day and area.</summary>
internal static class PlanEndpoints
{
    public static void MapPlanning(this RouteGroupBuilder api)
    {
        api.MapGet("/aircraft", AircraftAsync).RequireAuthorization(Policies.SignedIn).WithSummary("Aircraft profiles of the school");
        api.MapPost("/aircraft", SaveAircraftAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Adds an aircraft profile, or puts one right");
        api.MapPost("/drills/{slug}/plan", PlanAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary(
                "Fits a drill to aeroplane, day and area: true airspeed, bank, radius, climb, ground path, "
                    + "drift, containment, suggested start"
            );
    }

    private static async Task<Ok<IReadOnlyList<AircraftProfile>>> AircraftAsync(SchoolDrillsDbContext db, CancellationToken ct) =>
        TypedResults.Ok<IReadOnlyList<AircraftProfile>>(
            await db.Aircraft.AsNoTracking().OrderBy(a => a.Slug).Select(a => a.Profile).ToListAsync(ct)
        );

    private static async Task<Results<Ok<AircraftProfile>, Created<AircraftProfile>, ProblemHttpResult>> SaveAircraftAsync(
        AircraftProfile profile,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (profile.Problems() is [var first, ..])
            return Problems.Unprocessable("aircraft", first);
        var row = await db.Aircraft.FirstOrDefaultAsync(a => a.Slug == profile.Slug, ct);
        var isNew = row is null;
        if (row is null)
        {
            db.Aircraft.Add(
                row = new AircraftRow
                {
                    SchoolId = me.SchoolId,
                    Slug = profile.Slug,
                    Profile = profile,
                }
            );
        }

        row.Profile = profile;
        db.AuditEntries.Add(
            AuditEntry.By(me, clock.GetUtcNow(), isNew ? "aircraft-added" : "aircraft-changed", "aircraft", row.Id, profile.Slug)
        );
        await db.SaveChangesAsync(ct);
        return isNew ? TypedResults.Created("/api/v1/aircraft", profile) : TypedResults.Ok(profile);
    }

    private static async Task<Results<Ok<DrillPlanReply>, ProblemHttpResult>> PlanAsync(
        string slug,
        PlanDrill asked,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await DrillEndpoints.FindAsync(db, me, slug, null, ct) is not { } drill)
            return Problems.NotFound("drill");
        var aircraft = await db
            .Aircraft.AsNoTracking()
            .Where(a => a.Slug == asked.AircraftId)
            .Select(a => a.Profile)
            .FirstOrDefaultAsync(ct);
        if (aircraft is null)
            return Problems.Unprocessable("aircraft", $"The school has no aircraft profile '{asked.AircraftId}'.");
        var entry = asked.Entry(drill.Template);
        if (TemplateProblems.Of(drill.Template, entry) is [var entryProblem, ..])
            return Problems.Unprocessable("entry", entryProblem);
        var (conditions, problem) = asked.Conditions(entry.AltitudeFt, clock.GetUtcNow());
        if (conditions is null)
            return Problems.Unprocessable(problem!.Value.What, problem.Value.Sentence);

        var plan = DrillPlan.Of(drill.Template, entry, aircraft, conditions);
        return TypedResults.Ok(
            new DrillPlanReply(
                plan.TrueAirspeedKt,
                plan.Turns.Count == 0 ? null : plan.Turns.Max(t => t.BankDeg),
                plan.Turns.Count == 0 ? null : plan.Turns.Max(t => t.RadiusNm),
                plan.Climb.Feasible,
                plan.Climb.Why,
                GroundPath(plan),
                Math.Round(conditions.DeclinationDeg, 2),
                plan
            )
        );
    }

    private static GeoJsonLine? GroundPath(DrillPlan plan) =>
        plan.GroundPlaces is not { } places
            ? null
            : new GeoJsonLine(
                "LineString",
                [
                    .. places.Select(
                        (p, i) =>
                            (IReadOnlyList<double>)
                                [Math.Round(p.LonDeg, 6), Math.Round(p.LatDeg, 6), Math.Round(plan.GroundPath.AltitudeFt[i] * Units.MPerFt)]
                    ),
                ]
            );
}
