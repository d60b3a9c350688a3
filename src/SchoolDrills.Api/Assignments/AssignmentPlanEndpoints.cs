using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Assignments;

/// <summary>The plan kept with an assignment: whoever sees the assignment may plan it.</summary>
internal static class AssignmentPlanEndpoints
{
    private const int LongestAreaName = 80;

    public static void MapAssignmentPlans(this RouteGroupBuilder api) =>
        api.MapPut("/assignments/{id:guid}/plan", SaveAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("Keeps how an assignment is to be flown on the day; refused where somebody saved another plan meanwhile");

    /// <summary>The plan of an assignment; null where nobody planned it.</summary>
    public static async Task<AssignmentPlan?> OfAsync(
        SchoolDrillsDbContext db,
        CurrentPerson me,
        Assignment assignment,
        DrillTemplate template,
        int drillVersion,
        CancellationToken ct
    )
    {
        var row = await db
            .AssignmentPlans.AsNoTracking()
            .VisibleTo(me)
            .Include(p => p.PlannedBy)
            .FirstOrDefaultAsync(p => p.AssignmentId == assignment.Id, ct);
        return row is null ? null : Seen(row, row.PlannedBy.DisplayName, assignment, template, drillVersion);
    }

    private static async Task<Results<Ok<AssignmentPlan>, ProblemHttpResult>> SaveAsync(
        Guid id,
        SavePlan sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var assignment = await db
            .Assignments.AsNoTracking()
            .VisibleTo(me)
            .Include(a => a.DrillVersion)
            .FirstOrDefaultAsync(a => a.Id == id, ct);
        if (assignment is null)
            return Problems.NotFound("assignment");
        if (sent.Plan is not { } plan)
            return Problems.Invalid("plan", "Send the plan as plan, with aircraftId at least.");
        if (assignment.CancelledAtUtc is not null)
            return Problems.Conflict("assignment-cancelled", "This assignment was taken back: there is nothing to plan.");
        var aircraft = db.Aircraft.Where(a =>
            a.Slug == plan.AircraftId && (plan.AircraftVersion == null || a.Version == plan.AircraftVersion)
        );
        if (await aircraft.MaxAsync(a => (int?)a.Version, ct) is { } aircraftVersion)
            plan = plan with { AircraftVersion = aircraftVersion };
        else
            return Problems.Unprocessable("aircraft", $"The school has no aircraft profile '{plan.AircraftId}'.");
        if (plan.AreaName?.Length > LongestAreaName)
            return Problems.Unprocessable("area", $"The name of the area is longer than {LongestAreaName} characters.");
        var (template, version) = (assignment.DrillVersion.Template, assignment.DrillVersion.Version);
        var now = clock.GetUtcNow();
        var entry = plan.Entry(template);
        if (TemplateProblems.Of(template, entry) is [var entryProblem, ..])
            return Problems.Unprocessable("entry", entryProblem);
        if (plan.Conditions(entry.AltitudeFt, now, suggest: false).Problem is { } problem)
            return Problems.Unprocessable(problem.What, problem.Sentence);

        var row = await db.AssignmentPlans.VisibleTo(me).Include(p => p.PlannedBy).FirstOrDefaultAsync(p => p.AssignmentId == id, ct);
        if (sent.Revision != (row?.Revision ?? 0))
            return Changed(row);
        if (row is null)
        {
            db.AssignmentPlans.Add(
                row = new AssignmentPlanRow
                {
                    AssignmentId = id,
                    SchoolId = me.SchoolId,
                    StudentId = assignment.StudentId,
                    Asked = plan,
                    DrillVersion = version,
                    Revision = 1,
                    PlannedById = me.Id,
                    PlannedAtUtc = now,
                }
            );
        }
        else
        {
            (row.Asked, row.DrillVersion, row.PlannedById, row.PlannedAtUtc) = (plan, version, me.Id, now);
            row.Revision++;
        }

        db.AuditEntries.Add(AuditEntry.By(me, now, "drill-planned", "assignment", id, assignment.DrillVersion.Slug));
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateException)
        {
            // Somebody saved between the reading and this; anything else is a fault and goes on.
            db.ChangeTracker.Clear();
            var kept = await db.AssignmentPlans.AsNoTracking().Include(p => p.PlannedBy).FirstOrDefaultAsync(p => p.AssignmentId == id, ct);
            if (kept is null || kept.Revision == sent.Revision)
                throw;
            return Changed(kept);
        }

        return TypedResults.Ok(Seen(row, me.DisplayName, assignment, template, version));
    }

    private static ProblemHttpResult Changed(AssignmentPlanRow? kept) =>
        Problems.Conflict(
            "plan-changed",
            kept is null
                ? "There is no plan any more that this one could replace: save it as a new one."
                : $"{kept.PlannedBy.DisplayName} saved a plan for this assignment meanwhile: load it, or save yours over it."
        );

    private static AssignmentPlan Seen(
        AssignmentPlanRow row,
        string plannedBy,
        Assignment assignment,
        DrillTemplate template,
        int version
    ) => new(row.Asked, row.Revision, plannedBy, row.PlannedAtUtc, row.DrillVersion, [.. Differences(row, assignment, template, version)]);

    private static IEnumerable<string> Differences(AssignmentPlanRow row, Assignment assignment, DrillTemplate template, int version)
    {
        if (row.DrillVersion != version)
            yield return $"Planned for version {row.DrillVersion} of the drill; version {version} is assigned.";
        var (planned, assigned) = (row.Asked.Entry(template), template.EntryWith(assignment.Overrides));
        if (Different(planned.HeadingMagDeg, assigned.HeadingMagDeg))
            yield return $"Planned for heading {planned.HeadingMagDeg:000}°; {assigned.HeadingMagDeg:000}° is assigned.";
        if (Different(planned.AltitudeFt, assigned.AltitudeFt))
            yield return $"Planned for {Whole(planned.AltitudeFt)} ft; {Whole(assigned.AltitudeFt)} ft are assigned.";
        if (Different(planned.AirspeedKt, assigned.AirspeedKt))
            yield return $"Planned for {Whole(planned.AirspeedKt)} kt; {Whole(assigned.AirspeedKt)} kt are assigned.";
        if (planned.Mirrored != assigned.Mirrored)
            yield return $"Planned {Side(planned)}; assigned {Side(assigned)}.";
        if (planned.HalfRate != assigned.HalfRate)
        {
            yield return $"Planned at {(planned.HalfRate ? "half" : "full")} rate; assigned at "
                + $"{(assigned.HalfRate ? "half" : "full")} rate.";
        }
    }

    private static string Side(DrillEntry entry) => entry.Mirrored ? "mirrored" : "as drawn";

    private static bool Different(double a, double b) => Math.Abs(a - b) > 0.5;

    private static string Whole(double value) => value.ToString("#,0", CultureInfo.InvariantCulture);
}
