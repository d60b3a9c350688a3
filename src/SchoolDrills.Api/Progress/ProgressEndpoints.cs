using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Progress;

/// <summary>A student's way toward the standard.</summary>
internal static class ProgressEndpoints
{
    public static void MapProgress(this RouteGroupBuilder api)
    {
        var student = api.MapGroup("/students/{id:guid}").RequireAuthorization(Policies.SignedIn);
        student.MapGet("/progress", ProgressAsync).WithSummary("Share of time in tolerance over like attempts, by parameter");
        student.MapGet("/weak-segments", WeakAsync).WithSummary("Kinds of segment that were not met, worst first");
        student.MapGet("/load", LoadAsync).WithSummary("Own load ratings against the load flown, checks missed, load held");
        student.MapGet("/next-drill", NextAsync).WithSummary("Drills that work the weakest segment; none on too little data");
    }

    private static async Task<Results<Ok<StudentProgress>, ProblemHttpResult>> ProgressAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (await NameOfAsync(db, me, id, ct) is not { } name)
            return Problems.NotFound("student");
        var groups = await MeasuredWork.GroupsAsync(db, me, [id], ct);
        var measured = (await MeasuredWork.OfAttemptsAsync(db, me, groups, ct))[id].ToList();
        var required = await RequiredShareAsync(db, id, ct);
        var kinds = ParameterTrend.ByKind(measured).ToLookup(t => (t.Parameter, t.Group));
        return TypedResults.Ok(
            new StudentProgress(
                id,
                name,
                [.. ParameterTrend.ByParameter(measured).Select(t => View(t, kinds[(t.Parameter, t.Group)], required))]
            )
            {
                SelfAssessment = Calibration.Of(await MeasuredWork.SelfRatingsAsync(db, me, groups, ct)),
            }
        );
    }

    private static ParameterProgress View(ParameterTrend trend, IEnumerable<ParameterTrend> kinds, double requiredShare)
    {
        var forecast = Forecast.Of(trend, requiredShare);
        return new(
            trend.Parameter,
            ParameterFormat.Unit(trend.Parameter),
            Points(trend),
            requiredShare,
            trend.Trend.PerAttempt,
            forecast.Reason
        )
        {
            Group = trend.Group,
            TrendInterval = trend.Trend.Interval,
            Forecast = forecast is { Attempts: { } attempts, Interval: { } interval }
                ? new((int)Math.Ceiling(attempts), (int)Math.Floor(interval.Lo), (int)Math.Ceiling(interval.Hi))
                : null,
            Kinds = [.. kinds.Select(k => new KindProgress(k.Kind!.Value, Points(k), k.Trend.PerAttempt, k.Trend.Reason))],
        };
    }

    private static IReadOnlyList<ProgressPoint> Points(ParameterTrend trend) =>
        [
            .. trend.Points.Select(p => new ProgressPoint(
                p.AttemptId,
                trend.Group.DrillSlug,
                p.FlownAtUtc,
                p.WithinShare,
                p.Interval.Lo,
                p.Interval.Hi
            )),
        ];

    private static async Task<Results<Ok<IReadOnlyList<WeakSegmentSummary>>, ProblemHttpResult>> WeakAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await NameOfAsync(db, me, id, ct) is null)
            return Problems.NotFound("student");
        var weak = (await MeasuredWork.WeakSegmentsAsync(db, me, [id], clock.GetUtcNow(), ct))[id];
        return TypedResults.Ok<IReadOnlyList<WeakSegmentSummary>>([.. weak.Where(w => w.ExampleAttemptId is not null).Select(View)]);
    }

    private static WeakSegmentSummary View(WeakSegment weak) =>
        new(
            weak.Group.Kind,
            weak.Group.Parameter,
            weak.Group.Level,
            weak.Attempts,
            weak.NotMetShare,
            weak.Interval.Lo,
            weak.Interval.Hi,
            weak.Recurring,
            weak.LastSeenUtc!.Value,
            new SegmentExample(weak.ExampleAttemptId!.Value, weak.ExampleSegmentIndex!.Value)
        )
        {
            DrillSlugs = weak.DrillSlugs,
            Aircraft = weak.Group.Aircraft,
            HasAirData = weak.Group.HasAirData,
            Prior = weak.Prior,
            Reason = weak.Reason,
        };

    private static async Task<Results<Ok<StudentLoad>, ProblemHttpResult>> LoadAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (await NameOfAsync(db, me, id, ct) is not { } name)
            return Problems.NotFound("student");
        var flown = await LoadWork.OfAttemptsAsync(db, await MeasuredWork.GroupsAsync(db, me, [id], ct), ct);
        var required = await RequiredShareAsync(db, id, ct);
        return TypedResults.Ok(new StudentLoad(id, name, required, flown.Count, LoadProgress.Of(flown, required)));
    }

    private static async Task<Results<Ok<IReadOnlyList<NextDrillSuggestion>>, ProblemHttpResult>> NextAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await NameOfAsync(db, me, id, ct) is null)
            return Problems.NotFound("student");
        var segments = (await MeasuredWork.WeakSegmentsAsync(db, me, [id], clock.GetUtcNow(), ct))[id];
        var drills = await MeasuredWork.CandidatesAsync(db, ct);
        return TypedResults.Ok<IReadOnlyList<NextDrillSuggestion>>([
            .. NextDrill.Of(segments, drills.Values).Select(n => MeasuredWork.Suggestion(n, drills)),
        ]);
    }

    /// <summary>The name of a student whom the person may see; null for anybody else.</summary>
    private static async Task<string?> NameOfAsync(SchoolDrillsDbContext db, CurrentPerson me, Guid id, CancellationToken ct) =>
        me.MaySee(id)
            ? await db
                .People.AsNoTracking()
                .Where(p => p.Id == id && p.Roles.Contains(Roles.Student))
                .Select(p => p.DisplayName)
                .FirstOrDefaultAsync(ct)
            : null;

    /// <summary>What the standard of the newest scored attempt asks for, the usual share before the first.</summary>
    private static async Task<double> RequiredShareAsync(SchoolDrillsDbContext db, Guid studentId, CancellationToken ct)
    {
        var newest = await db
            .Attempts.AsNoTracking()
            .Where(a => a.StudentId == studentId && a.Status == AttemptStatus.Scored)
            .OrderByDescending(a => a.FlownAtUtc)
            .Select(a => new
            {
                a.DrillVersion.Template,
                Overrides = db.Assignments.Where(x => x.Id == a.AssignmentId).Select(x => x.Overrides).FirstOrDefault(),
            })
            .FirstOrDefaultAsync(ct);
        if (newest is null)
            return MeasuredWork.UsualShare;
        var slug = AttemptScoring.StandardSlug(newest.Template, newest.Overrides);
        var standard = await db.Standards.AsNoTracking().Where(s => s.Slug == slug).Select(s => s.Standard).FirstOrDefaultAsync(ct);
        return standard?.RequiredShare ?? MeasuredWork.UsualShare;
    }
}
