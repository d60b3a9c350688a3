using Hangfire;
using Hangfire.Server;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using Npgsql;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Api.Attempts;

/// <summary>
/// Load, score, save. Safe to run twice: a report is kept once for each attempt and engine version. What cannot be scored ends as
/// unscorable with its reason; a fault of the program or the database is tried again a few times first.
/// </summary>
internal sealed class ScoreAttemptJob(SchoolDrillsDbContext db, SchoolScope scope, TimeProvider clock, ILogger<ScoreAttemptJob> log)
{
    private const int Tries = 5;

    public static string Enqueue(IBackgroundJobClient jobs, Guid attemptId, Guid schoolId) =>
        jobs.Enqueue<ScoreAttemptJob>(job => job.RunAsync(attemptId, schoolId, null, CancellationToken.None));

    [AutomaticRetry(Attempts = Tries, DelaysInSeconds = [5, 15, 60, 300, 900])]
    public async Task RunAsync(Guid attemptId, Guid schoolId, PerformContext? context, CancellationToken ct)
    {
        scope.Enter(schoolId, null);
        try
        {
            await ScoreAsync(attemptId, ct);
        }
        catch (Exception e) when (e is not OperationCanceledException && context?.GetJobParameter<int>("RetryCount") >= Tries)
        {
            log.LogError(e, "Attempt {AttemptId} could not be scored after {Tries} tries", attemptId, Tries);
            db.ChangeTracker.Clear();
            await EndAsync(attemptId, "The program failed on this recording; the fault has been logged. Upload it again after the next update, or send it to whoever looks after the server.", ct);
        }
    }

    private async Task ScoreAsync(Guid attemptId, CancellationToken ct)
    {
        var attempt = await db.Attempts.Include(a => a.DrillVersion).Include(a => a.Assignment).FirstOrDefaultAsync(a => a.Id == attemptId, ct);
        // Erased while it waited, or scored by another worker.
        if (attempt is null || await db.ScoreReports.AnyAsync(r => r.AttemptId == attemptId && r.EngineVersion == AttemptScorer.EngineVersion, ct)) return;

        await StageAsync(attemptId, "reading", ct);
        var template = attempt.DrillVersion.Template;
        var slug = AttemptScoring.StandardSlug(template, attempt.Assignment?.Overrides);
        var standard = await db.Standards.AsNoTracking().Where(s => s.Slug == slug).Select(s => s.Standard).FirstOrDefaultAsync(ct);
        if (standard is null)
        {
            await EndAsync(attemptId, $"The school has no tolerance standard {slug} to judge by.", ct);
            return;
        }

        var file = await db.TrackFiles.AsNoTracking().SingleAsync(f => f.AttemptId == attemptId, ct);
        await using var original = file.OpenOriginal();
        var (track, problem) = TrackReader.Read(original, AttemptScoring.Reading(attempt.Meta), ct);
        if (track is null)
        {
            await EndAsync(attemptId, problem!.Message, ct);
            return;
        }

        var scored = AttemptScorer.Score(
            track, template with { Version = attempt.DrillVersion.Version }, standard, AttemptScoring.Options(attempt.Meta, attempt.Assignment?.Overrides),
            stage => Unreported(attemptId).ExecuteUpdate(a => a.SetProperty(x => x.Stage, stage.Word())), ct);
        await SaveAsync(attempt, scored, ct);
    }

    private async Task SaveAsync(Attempt attempt, ScoredAttempt scored, CancellationToken ct)
    {
        var report = scored.Report;
        var row = new ScoreReportRow
        {
            SchoolId = attempt.SchoolId,
            AttemptId = attempt.Id,
            EngineVersion = report.EngineVersion,
            ScoredAtUtc = clock.GetUtcNow(),
            Report = report,
        };
        db.ScoreReports.Add(row);
        db.TrackPlots.Add(new TrackPlot { ReportId = row.Id, SchoolId = attempt.SchoolId, Columns = PlotFormat.Write(scored.Columns) });
        db.SegmentResults.AddRange(Results(attempt, row));
        attempt.LatestReportId = row.Id;
        attempt.FlownAtUtc = report.StartUtc ?? report.Recording.StartUtc;
        attempt.WithinShare = report.Overall.WithinShare;
        attempt.Verdict = report.Found ? report.Overall.Verdict : null;
        attempt.Ribbon = Ribbon.Of(report);
        attempt.Status = report.Found ? AttemptStatus.Scored : AttemptStatus.Unscorable;
        attempt.Reason = report.Found ? null : report.NotMeasured[0];
        // The row has had its stages since this was read, so it is no longer null there.
        attempt.Stage = null;
        db.Entry(attempt).Property(a => a.Stage).IsModified = true;
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateException e) when (e.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation })
        {
            log.LogInformation("Attempt {AttemptId} was scored by another worker at the same time", attempt.Id);
        }
    }

    private static IEnumerable<SegmentResult> Results(Attempt attempt, ScoreReportRow row) =>
        from segment in row.Report.Segments
        where segment.Status != SegmentStatus.Skipped
        from deviation in segment.Deviations
        select new SegmentResult
        {
            ReportId = row.Id,
            SegmentIndex = segment.Index,
            Parameter = deviation.Parameter,
            SchoolId = attempt.SchoolId,
            AttemptId = attempt.Id,
            StudentId = attempt.StudentId,
            DrillSlug = attempt.DrillVersion.Slug,
            Kind = segment.Kind,
            FlownAtUtc = row.Report.StartUtc!.Value,
            DurationS = (segment.EndUtc!.Value - segment.StartUtc!.Value).TotalSeconds,
            WithinShare = deviation.Verdict == Verdict.NotMeasured ? null : deviation.WithinShare,
            Verdict = deviation.Verdict,
        };

    /// <summary>The attempt as long as it has no report of this engine: a slower worker must not set back what a faster one finished.</summary>
    private IQueryable<Attempt> Unreported(Guid attemptId) => db.Attempts
        .Where(a => a.Id == attemptId && !db.ScoreReports.Any(r => r.AttemptId == attemptId && r.EngineVersion == AttemptScorer.EngineVersion));

    private Task<int> StageAsync(Guid attemptId, string stage, CancellationToken ct) => Unreported(attemptId)
        .ExecuteUpdateAsync(a => a.SetProperty(x => x.Status, AttemptStatus.Scoring).SetProperty(x => x.Stage, stage), ct);

    private Task<int> EndAsync(Guid attemptId, string reason, CancellationToken ct) => Unreported(attemptId)
        .ExecuteUpdateAsync(a => a.SetProperty(x => x.Status, AttemptStatus.Unscorable).SetProperty(x => x.Stage, (string?)null).SetProperty(x => x.Reason, reason), ct);
}
