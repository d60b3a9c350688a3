using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Comparisons;

/// <summary>One attempt beside another of the same student at the same drill, or beside the school's example.</summary>
internal static class ComparisonEndpoints
{
    public static void MapComparisons(this RouteGroupBuilder api)
    {
        var attempt = api.MapGroup("/attempts/{id:guid}");
        attempt
            .MapGet("/comparison", GetAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("The attempt beside the student's last or best at the drill, or the school's example, segment by segment");
        attempt
            .MapGet("/comparison/track", TrackAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("The columns of both, each segment from its own flown start, without times of day or places");
        attempt
            .MapGet("/example", ExampleAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Whether the attempt is its drill's example");
        attempt
            .MapPut("/example", MarkAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Makes the attempt its drill's example, in place of the one before; the student who flew it has agreed");
        attempt
            .MapDelete("/example", UnmarkAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("The attempt is no longer its drill's example");
    }

    private static async Task<Results<Ok<AttemptComparison>, ProblemHttpResult>> GetAsync(
        Guid id,
        QueryWord<ComparedWith>? with,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (await ScoredAsync(db, id, me, ct) is not { } attempt)
            return Problems.NotFound("attempt");
        var comparable = await ComparableAttempts.OfAsync(db, attempt, me, ct);
        var offered = comparable.Offered;
        if ((with?.Value ?? (offered.Count > 0 ? offered[0] : null)) is not { } asked || !offered.Contains(asked))
        {
            var reason = Missing(attempt, with?.Value, comparable);
            return TypedResults.Ok(new AttemptComparison(offered, null, reason, null, null, null, null, [], null));
        }

        var mine = attempt.LatestReport!.Report;
        var trackUrl = $"api/v1/attempts/{id}/comparison/track?with={Engine.KebabCase.Of(asked)}";
        if (asked == ComparedWith.Example)
        {
            var example = await db
                .DrillExamples.AsNoTracking()
                .Where(e => e.DrillVersionId == attempt.DrillVersionId)
                .FirstOrDefaultAsync(ct);
            return example is null
                ? Problems.NotFoundBecause(ExampleGone)
                : TypedResults.Ok(
                    new AttemptComparison(
                        offered,
                        asked,
                        null,
                        null,
                        null,
                        null,
                        trackUrl,
                        Beside(mine, example.Ribbon, null),
                        mine.Entry is { } entry ? EntryShift.Between(example.Plot.Entry, entry) : null
                    )
                );
        }

        if (await ScoredAsync(db, comparable.IdOf(asked)!.Value, me, ct) is not { } other)
            return Problems.NotFound("attempt to compare with");
        var theirs = other.LatestReport!.Report;
        return TypedResults.Ok(
            new AttemptComparison(
                offered,
                asked,
                null,
                other.Id,
                other.FlownAtUtc,
                other.WithinShare,
                trackUrl,
                Beside(mine, other.Ribbon, theirs),
                mine.Entry is { } to && theirs.Entry is { } from ? EntryShift.Between(from, to) : null
            )
        );
    }

    private static async Task<Results<Ok<FlightOverlay>, ProblemHttpResult>> TrackAsync(
        Guid id,
        QueryWord<ComparedWith>? with,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (await ScoredAsync(db, id, me, ct) is not { } attempt)
            return Problems.NotFound("attempt");
        if (with is not { Value: var asked })
            return Problems.Invalid("with", "Say what to compare with: last, best or example.");
        var comparable = await ComparableAttempts.OfAsync(db, attempt, me, ct);
        if (!comparable.Offered.Contains(asked))
            return Problems.NotFoundBecause(Missing(attempt, asked, comparable));
        if (await PlotAsync(db, attempt, ct) is not { } mine)
            return Problems.NotFoundBecause("The track of this attempt is no longer kept.");
        FlownPlot? theirs;
        if (asked == ComparedWith.Example)
        {
            var version = attempt.DrillVersionId;
            theirs = await db
                .DrillExamples.AsNoTracking()
                .Where(e => e.DrillVersionId == version)
                .Select(e => e.Plot)
                .FirstOrDefaultAsync(ct);
        }
        else
        {
            var otherId = comparable.IdOf(asked)!.Value;
            theirs = await ScoredAsync(db, otherId, me, ct) is { } other ? await PlotAsync(db, other, ct) : null;
        }

        return theirs is null
            ? Problems.NotFoundBecause("The track to compare with is no longer kept.")
            : TypedResults.Ok(FlightOverlay.Of(mine, theirs));
    }

    private static async Task<Results<Ok<ExampleStanding>, ProblemHttpResult>> ExampleAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (await SeenAsync(db, id, me, ct) is not { } attempt)
            return Problems.NotFound("attempt");
        var of = await db
            .DrillExamples.Where(e => e.DrillVersionId == attempt.DrillVersionId)
            .Select(e => (Guid?)e.AttemptId)
            .FirstOrDefaultAsync(ct);
        return TypedResults.Ok(new ExampleStanding(of == id, of is not null));
    }

    private static async Task<Results<Ok<ExampleStanding>, ProblemHttpResult>> MarkAsync(
        Guid id,
        MarkExample sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await ScoredAsync(db, id, me, ct) is not { } attempt)
            return Problems.NotFound("attempt");
        if (!sent.StudentAgreed)
        {
            return Problems.Unprocessable(
                "not-agreed",
                "Ask the student who flew it, then say that he or she agreed: without that no flight is shown to others."
            );
        }

        if (attempt.Status != AttemptStatus.Scored || await PlotAsync(db, attempt, ct) is not { } plot)
            return Problems.Unprocessable("not-scored", "Only a scored attempt in which the drill was found can be an example.");
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        // Of two instructors at once the second waits here for the first, and then replaces what he marked.
        await db.Database.ExecuteSqlAsync($"select pg_advisory_xact_lock(hashtextextended({attempt.DrillVersionId.ToString()}, 0))", ct);
        await db.DrillExamples.Where(e => e.DrillVersionId == attempt.DrillVersionId).ExecuteDeleteAsync(ct);
        var now = clock.GetUtcNow();
        db.DrillExamples.Add(
            new DrillExample
            {
                DrillVersionId = attempt.DrillVersionId,
                SchoolId = me.SchoolId,
                AttemptId = id,
                MarkedById = me.Id,
                MarkedAtUtc = now,
                Plot = plot,
                Ribbon = attempt.Ribbon,
            }
        );
        db.AuditEntries.Add(Audit.AuditEntry.By(me, now, "example-marked", "attempt", id, "the student agreed"));
        await db.SaveChangesAsync(ct);
        await transaction.CommitAsync(ct);
        return TypedResults.Ok(new ExampleStanding(true, true));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> UnmarkAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await SeenAsync(db, id, me, ct) is null)
            return Problems.NotFound("attempt");
        if (await db.DrillExamples.FirstOrDefaultAsync(e => e.AttemptId == id, ct) is not { } example)
            return TypedResults.NoContent();
        db.DrillExamples.Remove(example);
        db.AuditEntries.Add(Audit.AuditEntry.By(me, clock.GetUtcNow(), "example-withdrawn", "attempt", id));
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateConcurrencyException)
        {
            // Somebody else has just withdrawn or replaced it: it is no example either way.
        }

        return TypedResults.NoContent();
    }

    private const string ExampleGone = "The school's example of this drill was withdrawn just now.";

    private static string Missing(Attempt attempt, ComparedWith? asked, ComparableAttempts comparable) =>
        attempt is not { Status: AttemptStatus.Scored, LatestReportId: not null }
            ? "This attempt has no score yet, so there is nothing to compare."
            : asked switch
            {
                ComparedWith.Example => "The school has no other example of this drill.",
                ComparedWith.Last when comparable.BestId is not null => "No scored attempt at this drill was flown before this one.",
                ComparedWith.Best when comparable.LastId is not null => "There is no other scored attempt at this drill.",
                _ => "This is the first attempt at this drill: there is no other yet to compare it with.",
            };

    private static IReadOnlyList<ComparedSegment> Beside(ScoreReport mine, IReadOnlyList<RibbonSegment> ribbon, ScoreReport? theirs) =>
        [
            .. Ribbon
                .Of(mine)
                .Select(s => new ComparedSegment(
                    s,
                    ribbon.FirstOrDefault(r => r.Index == s.Index),
                    mine.Segments.First(r => r.Index == s.Index).StartErrorS,
                    theirs?.Segments.FirstOrDefault(r => r.Index == s.Index)?.StartErrorS
                )),
        ];

    private static Task<Attempt?> SeenAsync(SchoolDrillsDbContext db, Guid id, CurrentPerson me, CancellationToken ct) =>
        db.Attempts.AsNoTracking().VisibleTo(me).FirstOrDefaultAsync(a => a.Id == id, ct);

    private static Task<Attempt?> ScoredAsync(SchoolDrillsDbContext db, Guid id, CurrentPerson me, CancellationToken ct) =>
        db.Attempts.AsNoTracking().VisibleTo(me).Include(a => a.LatestReport).FirstOrDefaultAsync(a => a.Id == id, ct);

    private static async Task<FlownPlot?> PlotAsync(SchoolDrillsDbContext db, Attempt attempt, CancellationToken ct)
    {
        if (attempt.LatestReport is not { } report)
            return null;
        var reportId = report.Id;
        var columns = await db.TrackPlots.Where(p => p.ReportId == reportId).Select(p => p.Columns).FirstOrDefaultAsync(ct);
        return columns is null ? null : FlownPlot.Of(report.Report, PlotFormat.Read(columns));
    }
}
