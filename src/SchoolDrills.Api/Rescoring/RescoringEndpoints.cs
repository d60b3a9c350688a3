using Hangfire;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using Npgsql;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Rescoring;

/// <summary>The chief has attempts of older engines scored anew, follows it, and sees what changed.</summary>
internal static class RescoringEndpoints
{
    private const int PageSize = 25;

    public static void MapRescoring(this RouteGroupBuilder api)
    {
        var rescoring = api.MapGroup("/school/rescoring").RequireAuthorization(Policies.Chief);
        rescoring.MapGet("", GetAsync).WithSummary("How many attempts a choice has, and how far the newest rescoring is");
        rescoring.MapPost("", StartAsync).WithSummary("Scores anew what older engines scored, in the background, after fresh uploads");
        rescoring.MapPost("/stop", StopAsync).WithSummary("Stops the rescoring that runs; what is done stays");
        rescoring.MapGet("/changes", ChangesAsync).WithSummary("What the newest rescoring changed, and what failed, 25 a page");
    }

    private static async Task<Results<Ok<RescoringStanding>, ProblemHttpResult>> GetAsync(
        string? engineVersion,
        string? drillSlug,
        Guid? studentId,
        DateOnly? flownFrom,
        DateOnly? flownTo,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        var choice = new RescoringChoice(engineVersion, drillSlug, studentId, flownFrom, flownTo);
        return ProblemOf(choice) is { } problem
            ? Problems.Unprocessable("rescoring", problem)
            : TypedResults.Ok(await StandingAsync(db, choice, ct));
    }

    private static async Task<Results<Accepted<RescoringStanding>, ProblemHttpResult>> StartAsync(
        RescoringChoice sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        IBackgroundJobClient jobs,
        TimeProvider clock,
        ILogger<RescoringJob> log,
        CancellationToken ct
    )
    {
        if (ProblemOf(sent) is { } problem)
            return Problems.Unprocessable("rescoring", problem);
        var chosen = await OlderWork.ChosenAsync(db, sent, ct);
        if (chosen.Length == 0)
        {
            return Problems.Unprocessable(
                "nothing-to-rescore",
                $"There is nothing to rescore: no attempt of this choice was scored by an engine older than {AttemptScorer.EngineVersion}."
            );
        }

        var run = new RescoringRow
        {
            SchoolId = me.SchoolId,
            EngineVersion = AttemptScorer.EngineVersion,
            StartedAtUtc = clock.GetUtcNow(),
            StartedById = me.Id,
            Choice = sent,
            Chosen = chosen.Length,
        };
        var entry = AuditEntry.By(me, run.StartedAtUtc, "rescoring-started", "rescoring", run.Id, Words(sent, chosen.Length));
        if (!await OlderWork.StartAsync(db, run, chosen, entry, ct))
        {
            var other = await NewestAsync(db, ct);
            return Problems.Conflict(
                "rescoring-runs",
                $"{other?.StartedBy ?? "Whoever looks after the server"} has started a rescoring: wait until it ends, or stop it first."
            );
        }

        try
        {
            await RescoringJob.EnqueueAsync(jobs, db, run.Id, me.SchoolId, ct);
        }
        catch (Exception e) when (e is BackgroundJobClientException or NpgsqlException or InvalidOperationException)
        {
            log.LogWarning(e, "Rescoring {RescoringId} is stored and was not queued; the sweep queues it within a minute", run.Id);
        }

        return TypedResults.Accepted("/api/v1/school/rescoring", await StandingAsync(db, sent, ct));
    }

    private static async Task<Results<Ok<RescoringStanding>, ProblemHttpResult>> StopAsync(
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var running = await db.Rescorings.Where(r => r.EndedAtUtc == null).Select(r => (Guid?)r.Id).FirstOrDefaultAsync(ct);
        var stopped =
            running is { } id
            && await OlderWork.EndAsync(db, id, me.Id, AuditEntry.By(me, clock.GetUtcNow(), "rescoring-stopped", "rescoring", id), ct);
        return stopped
            ? TypedResults.Ok(await StandingAsync(db, new RescoringChoice(), ct))
            : Problems.Conflict("no-rescoring-runs", "No rescoring runs, so there is nothing to stop.");
    }

    private static async Task<Results<Ok<RescoredPage>, ProblemHttpResult>> ChangesAsync(
        int? page,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (ListPage.Problem(page) is { } problem)
            return problem;
        var newest = db.Rescorings.OrderByDescending(r => r.StartedAtUtc).Select(r => r.Id).Take(1);
        var told = db.RescoringItems.Where(i =>
            newest.Contains(i.RescoringId) && (i.Outcome == RescoringOutcome.Changed || i.Outcome == RescoringOutcome.Failed)
        );
        var total = await told.CountAsync(ct);
        var shown = await told.OrderByDescending(i => i.Outcome == RescoringOutcome.Failed)
            .ThenBy(i => i.Number)
            .Skip(((page ?? 1) - 1) * PageSize)
            .Take(PageSize)
            .Select(i => new
            {
                Item = i,
                Student = i.Attempt.Student.DisplayName,
                i.Attempt.DrillVersion.Template,
                FlownAtUtc = i.Attempt.PlacedAtUtc,
                Graded = i.Attempt.GradedAtUtc != null,
            })
            .AsNoTracking()
            .ToListAsync(ct);
        return TypedResults.Ok(
            new RescoredPage(
                shown.ConvertAll(s => new RescoredAttempt(
                    s.Item.AttemptId,
                    s.Student,
                    s.Template.Title,
                    s.FlownAtUtc,
                    s.Item.EngineBefore,
                    s.Item.VerdictBefore,
                    s.Item.WithinShareBefore,
                    s.Item.VerdictAfter,
                    s.Item.WithinShareAfter,
                    s.Graded,
                    s.Item.Failure
                )),
                page ?? 1,
                PageSize,
                total
            )
        );
    }

    private static async Task<RescoringStanding> StandingAsync(SchoolDrillsDbContext db, RescoringChoice choice, CancellationToken ct) =>
        new(
            AttemptScorer.EngineVersion,
            await OlderWork.CountAsync(db, choice, ct),
            await OlderWork.ByEngineAsync(db, ct),
            await NewestAsync(db, ct)
        );

    private static async Task<RescoringProgress?> NewestAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        var run = await db
            .Rescorings.AsNoTracking()
            .Include(r => r.StartedBy)
            .Include(r => r.StoppedBy)
            .OrderByDescending(r => r.StartedAtUtc)
            .FirstOrDefaultAsync(ct);
        if (run is null)
            return null;
        var counts = await db
            .RescoringItems.Where(i => i.RescoringId == run.Id)
            .GroupBy(i => i.Outcome)
            .Select(g => new { Outcome = g.Key, Count = g.Count() })
            .ToDictionaryAsync(c => c.Outcome, c => c.Count, ct);
        return new RescoringProgress(
            run.Id,
            run.StartedAtUtc,
            run.StartedBy?.DisplayName,
            run.Choice,
            run.Chosen,
            run.Chosen - counts.GetValueOrDefault(RescoringOutcome.Waiting),
            counts.GetValueOrDefault(RescoringOutcome.Changed),
            counts.GetValueOrDefault(RescoringOutcome.Failed),
            run.EndedAtUtc,
            run.StoppedBy?.DisplayName
        );
    }

    private static string? ProblemOf(RescoringChoice choice) =>
        choice switch
        {
            { FlownFrom: { } from, FlownTo: { } to } when from > to => "flownFrom is after flownTo: give the first day as flownFrom.",
            { FlownFrom.Year: < 1900 or > 3000 } or { FlownTo.Year: < 1900 or > 3000 } => "flownFrom and flownTo are days of flights.",
            { EngineVersion.Length: > 40 } => "engineVersion is a version of the engine, as 1.4.0.",
            { DrillSlug.Length: > 100 } => "drillSlug is the slug of a drill, at most 100 characters.",
            _ => null,
        };

    private static string Words(RescoringChoice choice, int chosen) =>
        string.Join(
            ", ",
            new[]
            {
                $"attempts: {chosen}",
                choice.EngineVersion is { } engine ? $"engine {engine}" : null,
                choice.DrillSlug is { } drill ? $"drill {drill}" : null,
                choice.StudentId is { } student ? $"student {student}" : null,
                choice.FlownFrom is { } from ? FormattableString.Invariant($"from {from:yyyy-MM-dd}") : null,
                choice.FlownTo is { } to ? FormattableString.Invariant($"to {to:yyyy-MM-dd}") : null,
            }.OfType<string>()
        );
}
