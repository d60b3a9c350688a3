using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Schools;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Api.Progress;

/// <summary>The school as a whole, for its chief.</summary>
internal static class SchoolEndpoints
{
    private const string Engine = "the engine";

    /// <summary>Newest signed grades of an instructor that an agreement looks at.</summary>
    private const int NewestGrades = 100;

    private const int UsualDays = 90,
        MostDays = 3660;

    /// <summary>Days compared with as many before them for a drift of grades.</summary>
    private const int HalfYearDays = 182;

    public static void MapSchoolProgress(this RouteGroupBuilder api)
    {
        var school = api.MapGroup("/school").RequireAuthorization(Policies.Chief);
        school.MapGet("/overview", OverviewAsync).WithSummary("All students and drills at a glance");
        school.MapGet("/grading-agreement", AgreementAsync).WithSummary("How far instructors agree with one another and with the engine");
    }

    private static async Task<Results<Ok<SchoolOverview>, ProblemHttpResult>> OverviewAsync(
        int? days,
        SchoolDrillsDbContext db,
        Concluded<StagePlace> concluded,
        SchoolLimits usual,
        TimeProvider clock,
        CancellationToken ct
    ) =>
        await OverviewOfAsync(days, db, concluded, clock.GetUtcNow(), ct) is { } overview
            ? TypedResults.Ok(
                overview with
                {
                    Storage = await db
                        .Schools.Select(s => new SchoolStorage(
                            s.StoredBytes,
                            s.MostStoredBytes ?? usual.MostStoredBytes,
                            s.MostUploadsAnHour ?? usual.MostUploadsAnHour
                        ))
                        .SingleAsync(ct),
                }
            )
            : DaysProblem;

    /// <summary>The overview; null where the days are none that can be asked for.</summary>
    public static async Task<SchoolOverview?> OverviewOfAsync(
        int? days,
        SchoolDrillsDbContext db,
        Concluded<StagePlace> concluded,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        if (days is < 1 or > MostDays)
            return null;
        var school = await db.Schools.AsNoTracking().SingleAsync(ct);
        var today = school.Today(now);
        var students = await db
            .People.AsNoTracking()
            .Where(p => p.Active && p.Roles.Contains(Roles.Student))
            .OrderBy(p => p.DisplayName)
            .Select(p => new { p.Id, p.DisplayName })
            .ToListAsync(ct);
        var flown = await db.StudentSummaries.AsNoTracking().ToDictionaryAsync(s => s.StudentId, ct);
        var states = students.ToDictionary(p => p.Id, p => flown.GetValueOrDefault(p.Id)?.State ?? Guid.Empty);
        var toFly = await AssignmentEndpoints
            .ToFly(db.Assignments.AsNoTracking())
            .GroupBy(a => a.StudentId)
            .Select(g => new
            {
                g.Key,
                Open = g.Count(),
                Overdue = g.Count(a => a.DueOn < today),
            })
            .ToDictionaryAsync(g => g.Key, ct);
        return new(
            students.ConvertAll(p =>
            {
                var (summary, work) = (flown.GetValueOrDefault(p.Id), toFly.GetValueOrDefault(p.Id));
                return new StudentOverview(
                    p.Id,
                    p.DisplayName,
                    summary?.Attempts ?? 0,
                    summary?.LastFlownAtUtc,
                    work?.Open ?? 0,
                    work?.Overdue ?? 0
                );
            }),
            await DrillsAsync(db, ct)
        )
        {
            Period = await OverviewQueries.PeriodAsync(db, states, concluded, school, days ?? UsualDays, now, ct),
            Ageing = await AgeingQueries.AllAsync(db, school, now, ct),
        };
    }

    public static ProblemHttpResult DaysProblem => Problems.Invalid("days", $"days is a number from 1 to {MostDays}.");

    /// <summary>Every drill the school ever flew, by title.</summary>
    private static async Task<IReadOnlyList<DrillOverview>> DrillsAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        var flown = await db
            .Database.SqlQuery<DrillCounts>(
                $"""
                select key as "Slug", students as "Students", attempts as "Attempts", not_met as "NotMet"
                from day_tallies where dimension = 'drill' and day = '-infinity' and attempts > 0
                """
            )
            .ToListAsync(ct);
        var titles = await DrillTitles.AllAsync(db, ct);
        return
        [
            .. flown
                .Select(d => new DrillOverview(d.Slug, titles[d.Slug], d.Students, d.Attempts, d.NotMet))
                .OrderBy(d => d.DrillTitle, StringComparer.Ordinal),
        ];
    }

    private static async Task<Ok<GradingAgreement>> AgreementAsync(SchoolDrillsDbContext db, TimeProvider clock, CancellationToken ct)
    {
        var school = await db.Schools.AsNoTracking().SingleAsync(ct);
        var places = school.GradeScale.OrderBy(w => w.Order).Select((w, place) => (w.Slug, place)).ToDictionary(w => w.Slug, w => w.place);
        var signed = await db
            .Database.SqlQuery<SignedGrade>(
                $"""
                select g.attempt_id as "AttemptId", p.id as "InstructorId", p.display_name as "DisplayName", g.number as "Number",
                  g.overall as "Overall", r.verdict as "Verdict", g.signed_at_utc as "SignedAtUtc"
                from people p cross join lateral (
                  select * from grades g where g.instructor_id = p.id and g.signed_at_utc is not null
                  order by g.signed_at_utc desc limit {NewestGrades}) g
                left join score_reports r on r.id = g.report_id
                where p.roles && array['instructor', 'chief']
                """
            )
            .ToListAsync(ct);
        var grades = signed
            .Where(g => places.ContainsKey(g.Overall))
            .GroupBy(g => (g.AttemptId, g.InstructorId))
            .Select(g => g.MaxBy(x => x.Number)!)
            .OrderBy(g => g.DisplayName, StringComparer.CurrentCulture)
            .ToList();
        var withEngine =
            from grade in grades
            let word = Suggested(school.Grading.Suggestions, grade.Verdict)
            where word is not null && places.ContainsKey(word)
            group (Pair: (places[grade.Overall], places[word]), At: grade.SignedAtUtc) by (grade.InstructorId, grade.DisplayName) into pairs
            select View(pairs.Key, (null, Engine), Agreement.Of([.. pairs.Select(p => p.Pair)], places.Count)) with
            {
                Drift = DriftOf(pairs, clock.GetUtcNow()),
            };
        var betweenInstructors =
            from first in grades
            join second in grades on first.AttemptId equals second.AttemptId
            where first.InstructorId.CompareTo(second.InstructorId) < 0
            group (places[first.Overall], places[second.Overall]) by (
                First: (first.InstructorId, first.DisplayName),
                Second: ((Guid?)second.InstructorId, second.DisplayName)
            ) into pairs
            select View(pairs.Key.First, pairs.Key.Second, Agreement.Of([.. pairs], places.Count));
        return TypedResults.Ok(new GradingAgreement([.. withEngine, .. betweenInstructors]));
    }

    /// <summary>Grades of the last half-year beside those of the one before.</summary>
    private static GradingDrift DriftOf(IEnumerable<((int Grade, int Engine) Pair, DateTimeOffset At)> graded, DateTimeOffset now)
    {
        var byHalfYear = graded.ToLookup(g => (int)((now - g.At).TotalDays / HalfYearDays), g => g.Pair.Grade - g.Pair.Engine);
        return GradingDrift.Of([.. byHalfYear[1]], [.. byHalfYear[0]]);
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

    private sealed record DrillCounts(string Slug, int Students, int Attempts, int NotMet);

    /// <param name="Verdict">The engine's, in the report that was before the instructor; null where there was none.</param>
    private sealed record SignedGrade(
        Guid AttemptId,
        Guid InstructorId,
        string DisplayName,
        int Number,
        string Overall,
        string? Verdict,
        DateTimeOffset SignedAtUtc
    );
}
