using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Planning;

namespace SchoolDrills.Api.Drills;

/// <summary>Fitting a drill to aeroplane, day and area.</summary>
internal static class PlanEndpoints
{
    public static void MapPlanning(this RouteGroupBuilder api)
    {
        api.MapPost("/drills/{slug}/plan", PlanAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary(
                "Fits a drill to aeroplane, day and area: true airspeed, bank, radius, climb, ground path, "
                    + "drift, containment, suggested start"
            );
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
        var aircraft = await AircraftEndpoints.FindAsync(db, asked.AircraftId, asked.AircraftVersion, ct);
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
