using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Api.Progress;

/// <summary>What a student's attempts add up to.</summary>
internal static class ProgressEndpoints
{
    public static void MapProgress(this RouteGroupBuilder api) =>
        api.MapGet("/students/{id:guid}/progress", ProgressAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("A student's share of time in tolerance over attempts, by parameter, with 90 % intervals and the trend");

    private static async Task<Results<Ok<StudentProgress>, ProblemHttpResult>> ProgressAsync(Guid id, CurrentPerson me, SchoolDrillsDbContext db, CancellationToken ct)
    {
        var name = await db.People.Where(p => p.Id == id && p.Roles.Contains(Roles.Student)).Select(p => p.DisplayName).FirstOrDefaultAsync(ct);
        if (name is null || !me.MaySee(id)) return Problems.NotFound("student");

        var measured = await db.SegmentResults.AsNoTracking()
            .Where(r => r.StudentId == id && r.WithinShare != null && db.Attempts.Any(a => a.LatestReportId == r.ReportId))
            .Select(r => new Measured(r.AttemptId, r.DrillSlug, r.FlownAtUtc, r.Parameter, r.DurationS, r.WithinShare!.Value))
            .ToListAsync(ct);
        var standardShare = await StandardShareAsync(id, db, ct);
        var parameters = measured
            .GroupBy(m => m.Parameter)
            .OrderBy(g => g.Key)
            .Select(g => Progress(g.Key, [.. g.GroupBy(m => m.AttemptId).Select(Point).OrderBy(p => p.FlownOn)], standardShare));
        return TypedResults.Ok(new StudentProgress(id, name, [.. parameters]));
    }

    /// <summary>The share asked for by the standard that the student's newest attempt was judged by.</summary>
    private static async Task<double> StandardShareAsync(Guid studentId, SchoolDrillsDbContext db, CancellationToken ct)
    {
        var report = await db.Attempts
            .Where(a => a.StudentId == studentId && a.LatestReport != null)
            .OrderByDescending(a => a.UploadedAtUtc)
            .Select(a => a.LatestReport!.Report)
            .FirstOrDefaultAsync(ct);
        var standard = report?.StandardSlug is { } named ? await db.Standards.AsNoTracking().FirstOrDefaultAsync(s => s.Slug == named, ct) : null;
        return standard?.Standard.RequiredShare ?? 0.9;
    }

    private static ProgressPoint Point(IGrouping<Guid, Measured> attempt)
    {
        var measuredS = attempt.Sum(m => m.DurationS);
        var withinShare = measuredS > 0 ? Math.Clamp(attempt.Sum(m => m.WithinShare * m.DurationS) / measuredS, 0, 1) : attempt.Average(m => m.WithinShare);
        var interval = ShareInterval.OfTime(withinShare, measuredS);
        var first = attempt.First();
        return new ProgressPoint(attempt.Key, first.DrillSlug, first.FlownAtUtc, withinShare, interval.Lo, interval.Hi);
    }

    private static ParameterProgress Progress(Parameter parameter, List<ProgressPoint> points, double standardShare) => new(
        parameter, Unit(parameter), points, standardShare, Trend.PerAttempt([.. points.Select(p => p.WithinShare)]), Forecast: null,
        points.Count < Trend.FewestAttempts
            ? $"Too little data for a trend or a forecast: {points.Count} of at least {Trend.FewestAttempts} attempts."
            : "No forecast yet: only the trend is told.");

    private static string Unit(Parameter parameter) => parameter switch
    {
        Parameter.Altitude => "ft",
        Parameter.Heading or Parameter.Bank => "deg",
        Parameter.Airspeed => "kt",
        Parameter.VerticalSpeed => "fpm",
        Parameter.TurnRate => "deg/s",
        Parameter.Timing => "s",
        _ => throw new ArgumentOutOfRangeException(nameof(parameter), parameter, "This parameter has no unit set."),
    };

    private sealed record Measured(Guid AttemptId, string DrillSlug, DateTimeOffset FlownAtUtc, Parameter Parameter, double DurationS, double WithinShare);
}
