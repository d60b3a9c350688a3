using Hangfire;
using Hangfire.Server;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using Npgsql;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Watching;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Api.Scoring;

/// <summary>
/// Load, score, save. Safe to run twice: a report is kept once for each engine version and revision of the attempt, and a worker that
/// was overtaken by a newer revision keeps nothing. Where an instructor corrected, the engine's own report is made as well, so that it
/// always stands beside. What cannot be scored ends as unscorable with its reason, or with the report it had; a fault of the program
/// or the database is tried again a few times first.
/// </summary>
internal sealed class ScoreAttemptJob(
    SchoolDrillsDbContext db,
    SchoolScope scope,
    AttemptRescoring rescoring,
    Instruments instruments,
    TimeProvider clock,
    ILogger<ScoreAttemptJob> log
)
{
    /// <summary>Further tries after the first.</summary>
    public const int Tries = 5;

    private const string Failed =
        "The program failed on this recording; the fault has been logged. Upload it again after the next update, or send it to whoever "
        + "looks after the server.";

    /// <summary>The queue of what can wait: worked off when nobody waits for a score.</summary>
    public const string PatientQueue = "rescoring";

    /// <summary>Why the attempt has no new report, where it has none; for whoever runs the job itself.</summary>
    public string? EndedBecause { get; private set; }

    /// <summary>What a host of the version before queued: it may be scored already, and is then left.</summary>
    [AutomaticRetry(Attempts = Tries, DelaysInSeconds = [5, 15, 60, 300, 900])]
    public Task RunAsync(Guid attemptId, Guid schoolId, PerformContext? context, CancellationToken ct) =>
        RunAsync(attemptId, schoolId, context?.GetJobParameter<int>("RetryCount") >= Tries, ct);

    /// <param name="isLastTry">Whether a fault ends the attempt with its reason instead of being thrown.</param>
    public async Task RunAsync(Guid attemptId, Guid schoolId, bool isLastTry, CancellationToken ct)
    {
        scope.Enter(Viewer.Job(schoolId));
        var attempt = await db
            .Attempts.Include(a => a.DrillVersion)
            .Include(a => a.Corrections)
            .FirstOrDefaultAsync(a => a.Id == attemptId, ct);
        // Erased while it waited.
        if (attempt is null)
            return;
        using var trace = Traces.Continue("score recording", attempt.TraceParent);
        using var run = instruments.Scoring(attempt.LatestReportId is null ? attempt.UploadedAtUtc : null, clock, ct);
        try
        {
            await ScoreAsync(attempt, ct);
            // Now that it is known where the drill is: of several recordings of a flight one may fit a log better than the one before.
            await rescoring.LinkLogsAsync(attempt, null, ct);
            run.Ended(EndedBecause is null && attempt.Status == AttemptStatus.Scored);
        }
        catch (Exception e) when (e is not OperationCanceledException && isLastTry)
        {
            log.LogError(e, "Attempt {AttemptId} could not be scored after {Tries} tries", attemptId, Tries);
            db.ChangeTracker.Clear();
            await EndAsync(attempt, Failed, ct);
        }
    }

    /// <summary>Ends an attempt whose worker ended with it, time after time.</summary>
    public async Task GiveUpAsync(Guid attemptId, Guid schoolId, CancellationToken ct)
    {
        scope.Enter(Viewer.Job(schoolId));
        if (await db.Attempts.FirstOrDefaultAsync(a => a.Id == attemptId, ct) is not { } attempt)
            return;
        log.LogError("Attempt {AttemptId} was not scored: each of {Tries} workers ended while it was at it", attemptId, Tries + 1);
        await EndAsync(attempt, Failed, ct);
    }

    private async Task ScoreAsync(Attempt attempt, CancellationToken ct)
    {
        var (own, corrected) = await ReportsAsync(attempt, ct);
        if (own is not null && (attempt.StandingCorrection is null || corrected is not null))
        {
            await ShowAsync(attempt, corrected ?? own, ct);
            return;
        }

        await StageAsync(attempt, "reading", ct);
        var template = attempt.DrillVersion.Template;
        var overrides = await db.Assignments.Where(a => a.Id == attempt.AssignmentId).Select(a => a.Overrides).FirstOrDefaultAsync(ct);
        var slug = AttemptScoring.StandardSlug(template, overrides);
        var standard = await db.Standards.AsNoTracking().Where(s => s.Slug == slug).Select(s => s.Standard).FirstOrDefaultAsync(ct);
        if (standard is null)
        {
            await EndAsync(attempt, $"The school has no tolerance standard {slug} to judge by.", ct);
            return;
        }

        if (await db.TrackFiles.AsNoTracking().SingleOrDefaultAsync(f => f.AttemptId == attempt.Id, ct) is not { } file)
        {
            await EndAsync(attempt, "The recording was erased with whatever else was kept of this person.", ct);
            return;
        }

        await using var original = file.OpenOriginal();
        var (track, problem) = TrackReader.Read(original, AttemptScoring.Reading(attempt.Meta), ct);
        if (track is null)
        {
            await EndAsync(attempt, problem!.Message, ct);
            return;
        }

        await rescoring.LinkLogsAsync(attempt, track, ct);
        var events = await db
            .AttemptEvents.AsNoTracking()
            .Where(e => e.AttemptId == attempt.Id)
            .OrderBy(e => e.AtUtc)
            .Select(e => new FlightEvent(e.Kind, e.AtUtc, e.Detail))
            .ToListAsync(ct);
        var options = AttemptScoring.Options(attempt.Meta, overrides) with { Events = events.Count == 0 ? null : events };
        try
        {
            own ??= Keep(attempt, attempt.OwnRevision, corrected: false, Score(options));
            if (attempt.StandingCorrection is { } correction)
                corrected = Keep(attempt, attempt.Revision, corrected: true, Score(AttemptScoring.With(options, correction)));
            await ShowAsync(attempt, corrected ?? own, ct);
        }
        catch (CorrectionRefusedException refused)
        {
            // Of a run that was not looked at before, or with a wind that moves other boundaries: only scoring could tell.
            await EndAsync(attempt, $"The corrections could not be used, and the score is as it was before them: {refused.Message}", ct);
        }

        ScoredAttempt Score(ScoringOptions options) =>
            AttemptScorer.Score(
                track,
                template with
                {
                    Version = attempt.DrillVersion.Version,
                },
                standard,
                options,
                stage => Unfinished(attempt).ExecuteUpdate(a => a.SetProperty(x => x.Stage, stage.Word())),
                ct
            );
    }

    /// <summary>What this engine has already reported about the attempt as it stands.</summary>
    private async Task<(ScoreReportRow? Own, ScoreReportRow? Corrected)> ReportsAsync(Attempt attempt, CancellationToken ct)
    {
        var reports = await db
            .ScoreReports.Where(r => r.AttemptId == attempt.Id && r.EngineVersion == AttemptScorer.EngineVersion)
            .ToListAsync(ct);
        return (
            reports.Find(r => !r.Corrected && r.Revision == attempt.OwnRevision),
            attempt.StandingCorrection is null ? null : reports.Find(r => r.Corrected && r.Revision == attempt.Revision)
        );
    }

    private ScoreReportRow Keep(Attempt attempt, int revision, bool corrected, ScoredAttempt scored)
    {
        var row = new ScoreReportRow
        {
            SchoolId = attempt.SchoolId,
            AttemptId = attempt.Id,
            EngineVersion = scored.Report.EngineVersion,
            Revision = revision,
            Corrected = corrected,
            ScoredAtUtc = clock.GetUtcNow(),
            Report = scored.Report,
        };
        db.ScoreReports.Add(row);
        db.TrackPlots.Add(
            new TrackPlot
            {
                ReportId = row.Id,
                SchoolId = attempt.SchoolId,
                Columns = PlotFormat.Write(scored.Columns),
            }
        );
        db.SegmentResults.AddRange(Results(attempt, row));
        return row;
    }

    /// <summary>
    /// Makes a report the one that is shown, unless the attempt was changed meanwhile: the job of that change then does it.
    /// </summary>
    private async Task ShowAsync(Attempt attempt, ScoreReportRow row, CancellationToken ct)
    {
        var report = row.Report;
        attempt.LatestReportId = row.Id;
        attempt.FlownAtUtc = report.StartUtc ?? report.Recording.StartUtc;
        attempt.HasAirData = report.Sources.Airspeed == AirspeedSource.Recorded;
        attempt.WithinShare = report.Overall.WithinShare;
        attempt.Verdict = report.Found ? report.Overall.Verdict : null;
        attempt.Ribbon = Ribbon.Of(report);
        attempt.Status = report.Found ? AttemptStatus.Scored : AttemptStatus.Unscorable;
        attempt.Reason = report.Found ? null : report.NotMeasured[0];
        attempt.ScoredWith = AttemptScorer.EngineVersion;
        attempt.Stage = null;
        // The row has had its stages since this was read, so none of these is as it was.
        foreach (var column in (string[])[nameof(Attempt.Stage), nameof(Attempt.Status), nameof(Attempt.Reason)])
            db.Entry(attempt).Property(column).IsModified = true;
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateException e)
            when (e is DbUpdateConcurrencyException
                || e.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation }
            )
        {
            log.LogInformation("Attempt {AttemptId} was changed or scored by another worker meanwhile", attempt.Id);
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

    /// <summary>
    /// The attempt while it waits for this revision's score: a slower worker must not set back what a faster one finished.
    /// </summary>
    private IQueryable<Attempt> Unfinished(Attempt attempt) =>
        db.Attempts.Where(a =>
            a.Id == attempt.Id && a.Revision == attempt.Revision && (a.Status == AttemptStatus.Queued || a.Status == AttemptStatus.Scoring)
        );

    private Task<int> StageAsync(Attempt attempt, string stage, CancellationToken ct) =>
        Unfinished(attempt)
            .ExecuteUpdateAsync(a => a.SetProperty(x => x.Status, AttemptStatus.Scoring).SetProperty(x => x.Stage, stage), ct);

    /// <summary>Without a new report: what had one is shown with it as before, and says why there is no newer.</summary>
    private async Task EndAsync(Attempt attempt, string reason, CancellationToken ct)
    {
        EndedBecause = reason;
        var standing = await db
            .ScoreReports.AsNoTracking()
            .Where(r => r.Id == attempt.LatestReportId)
            .Select(r => r.Report)
            .FirstOrDefaultAsync(ct);
        var status = standing is { Found: true } ? AttemptStatus.Scored : AttemptStatus.Unscorable;
        await Unfinished(attempt).ExecuteUpdateAsync(a => a.SetProperty(x => x.Status, status).SetProperty(x => x.Reason, reason), ct);
        await db
            .Attempts.Where(a => a.Id == attempt.Id && a.Revision == attempt.Revision)
            .ExecuteUpdateAsync(
                a => a.SetProperty(x => x.Stage, (string?)null).SetProperty(x => x.ScoredWith, AttemptScorer.EngineVersion),
                ct
            );
    }
}
