using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Progress;

/// <summary>The school as a whole, for its chief.</summary>
internal static class SchoolEndpoints
{
    private const string Engine = "the engine";

    public static void MapSchoolProgress(this RouteGroupBuilder api)
    {
        var school = api.MapGroup("/school").RequireAuthorization(Policies.Chief);
        school.MapGet("/overview", OverviewAsync).WithSummary("All students and drills at a glance");
        school.MapGet("/grading-agreement", AgreementAsync).WithSummary("How far instructors agree with one another and with the engine");
    }

    private static async Task<Ok<SchoolOverview>> OverviewAsync(
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var today = (await db.Schools.AsNoTracking().SingleAsync(ct)).Today(clock.GetUtcNow());
        var students = await db
            .People.AsNoTracking()
            .Where(p => p.Active && p.Roles.Contains(Roles.Student))
            .OrderBy(p => p.DisplayName)
            .Select(p => new StudentOverview(
                p.Id,
                p.DisplayName,
                db.Attempts.Count(a => a.StudentId == p.Id && a.Status == AttemptStatus.Scored),
                db.Attempts.Where(a => a.StudentId == p.Id && a.Status == AttemptStatus.Scored).Max(a => a.FlownAtUtc),
                db.Assignments.Count(a => a.StudentId == p.Id && a.CancelledAtUtc == null && a.Attempts.Count == 0),
                db.Assignments.Count(a => a.StudentId == p.Id && a.CancelledAtUtc == null && a.Attempts.Count == 0 && a.DueOn < today)
            ))
            .ToListAsync(ct);
        var attempts = await db
            .Attempts.AsNoTracking()
            .VisibleTo(me)
            .Where(a => a.Status == AttemptStatus.Scored)
            .Select(a => new
            {
                a.DrillVersion.Slug,
                a.DrillVersionId,
                a.StudentId,
                a.Verdict,
            })
            .ToListAsync(ct);
        var versions = attempts.Select(a => a.DrillVersionId).Distinct().ToList();
        var titles = (await db.DrillVersions.AsNoTracking().Where(d => versions.Contains(d.Id)).ToListAsync(ct))
            .GroupBy(d => d.Slug)
            .ToDictionary(g => g.Key, g => g.MaxBy(d => d.Version)!.Template.Title);
        var drills = attempts
            .GroupBy(a => a.Slug)
            .Select(g => new DrillOverview(
                g.Key,
                titles[g.Key],
                g.Select(a => a.StudentId).Distinct().Count(),
                g.Count(),
                g.Count(a => a.Verdict == Verdict.NotMet)
            ));
        return TypedResults.Ok(new SchoolOverview(students, [.. drills.OrderBy(d => d.DrillTitle, StringComparer.Ordinal)]));
    }

    private static async Task<Ok<GradingAgreement>> AgreementAsync(CurrentPerson me, SchoolDrillsDbContext db, CancellationToken ct)
    {
        var school = await db.Schools.AsNoTracking().SingleAsync(ct);
        var places = school.GradeScale.OrderBy(w => w.Order).Select((w, place) => (w.Slug, place)).ToDictionary(w => w.Slug, w => w.place);
        var signed = await db
            .Attempts.AsNoTracking()
            .VisibleTo(me)
            .SelectMany(a =>
                a.Grades.Where(g => g.SignedAtUtc != null)
                    .Select(g => new
                    {
                        g.AttemptId,
                        g.InstructorId,
                        g.Instructor.DisplayName,
                        g.Number,
                        g.Overall,
                        g.ReportId,
                    })
            )
            .ToListAsync(ct);
        var reportIds = signed.Select(g => g.ReportId).Distinct().ToList();
        // The verdict that the instructor had before him, one word of a long report.
        var verdicts = await db
            .Database.SqlQuery<ReportVerdict>(
                $"""
                select id as "Id", report -> 'overall' ->> 'verdict' as "Verdict" from score_reports where id = any ({reportIds})
                """
            )
            .ToDictionaryAsync(v => v.Id, v => v.Verdict, ct);
        var grades = signed
            .Where(g => places.ContainsKey(g.Overall))
            .GroupBy(g => (g.AttemptId, g.InstructorId))
            .Select(g => g.MaxBy(x => x.Number)!)
            .OrderBy(g => g.DisplayName, StringComparer.CurrentCulture)
            .ToList();
        var withEngine =
            from grade in grades
            let word = grade.ReportId is { } report ? Suggested(school.Grading.Suggestions, verdicts.GetValueOrDefault(report)) : null
            where word is not null && places.ContainsKey(word)
            group (places[grade.Overall], places[word]) by (grade.InstructorId, grade.DisplayName) into pairs
            select View(pairs.Key, (null, Engine), Agreement.Of([.. pairs], places.Count));
        var betweenInstructors =
            from first in grades
            from second in grades
            where first.AttemptId == second.AttemptId && first.InstructorId.CompareTo(second.InstructorId) < 0
            group (places[first.Overall], places[second.Overall]) by (
                First: (first.InstructorId, first.DisplayName),
                Second: ((Guid?)second.InstructorId, second.DisplayName)
            ) into pairs
            select View(pairs.Key.First, pairs.Key.Second, Agreement.Of([.. pairs], places.Count));
        return TypedResults.Ok(new GradingAgreement([.. withEngine, .. betweenInstructors]));
    }

    private static string? Suggested(GradeSuggestions? suggestions, string? verdict) =>
        verdict switch
        {
            "met" => suggestions?.Met,
            "close" => suggestions?.Close,
            "not-met" => suggestions?.NotMet,
            _ => null,
        };

    private static AgreementOfTwo View((Guid Id, string Name) first, (Guid? Id, string Name) second, Agreement agreement) =>
        new(
            first.Id,
            first.Name,
            second.Id,
            second.Name,
            agreement.Shared,
            agreement.Kappa,
            agreement.Interval?.Lo,
            agreement.Interval?.Hi,
            agreement.Reason
        );

    private sealed record ReportVerdict(Guid Id, string? Verdict);
}
