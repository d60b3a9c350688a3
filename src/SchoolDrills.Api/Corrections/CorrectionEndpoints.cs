using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Grades;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Corrections;

/// <summary>
/// Corrections: an instructor moves boundaries, excludes stretches, picks the run, and the attempt is re-scored. A signed
/// grade may stand meanwhile: it keeps the report it was given against, and only an amendment takes the new one.
/// </summary>
internal static class CorrectionEndpoints
{
    private const int LongestReason = 2000,
        MostStretches = 50,
        MostCorrections = 100;

    public static void MapCorrections(this RouteGroupBuilder api)
    {
        var boundaries = api.MapGroup("/attempts/{id:guid}/boundaries");
        boundaries.MapGet("", GetAsync).RequireAuthorization(Policies.SignedIn).WithSummary("What is set by hand, and its history");
        boundaries
            .MapPut("", SetAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Moves segment boundaries and re-scores; the engine's own are kept beside");
        boundaries.MapDelete("", UndoAsync).RequireAuthorization(Policies.Instructor).WithSummary("Back to the engine's own boundaries");
        api.MapPut("/attempts/{id:guid}/reading", ChooseReadingAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Scores the attempt as another of its report's readings");
    }

    private static async Task<Results<Accepted<AttemptDetail>, ProblemHttpResult>> ChooseReadingAsync(
        Guid id,
        PutReading sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        AttemptRescoring rescoring,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var latest = await db.Attempts.Where(a => a.Id == id).Select(a => a.LatestReport!.Report).FirstOrDefaultAsync(ct);
        var readings = latest?.Readings ?? [];
        if (readings.Count > 0 && (sent.Index < 0 || sent.Index >= readings.Count))
        {
            return Problems.Unprocessable(
                "readings",
                readings.Count == 1
                    ? $"There is no reading {sent.Index}: this flight can be read in one way only, reading 0."
                    : $"There is no reading {sent.Index}: this flight's readings are 0 to {readings.Count - 1}."
            );
        }

        if (await LoadAsync(db, id, ct) is not { } attempt)
            return Problems.NotFound("attempt");
        if (readings.Count == 0 || await AttemptDetails.OwnReportAsync(db, id, ct) is not { } own)
            return Problems.Conflict("not-scored", "No drill is scored in this attempt, so there is nothing to read in another way.");
        var run = readings[sent.Index].Run;
        var standing = attempt.StandingCorrection;
        // The engine's own reading needs no correction, unless something else is corrected beside it.
        var isEngines =
            own.Runs.FirstOrDefault(r => r.Scored)?.Index == run
            && standing is { ByHand.Excluded: null or { Count: 0 }, QnhHpa: null, WindKt: null };
        if (isEngines)
            return await UndoAsync(id, sent.Revision, me, db, rescoring, clock, ct);
        var put = new PutBoundaries(
            null,
            standing?.ByHand.Excluded,
            run,
            standing?.QnhHpa,
            standing?.WindFromDegTrue,
            standing?.WindKt,
            sent.Reason,
            sent.Revision
        );
        return await SetAsync(id, put, me, db, rescoring, clock, ct);
    }

    private static async Task<Results<Ok<BoundariesView>, ProblemHttpResult>> GetAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        var attempt = await db
            .Attempts.AsNoTracking()
            .VisibleTo(me)
            .Include(a => a.Corrections)
                .ThenInclude(c => c.Person)
            .FirstOrDefaultAsync(a => a.Id == id, ct);
        if (attempt is null)
            return Problems.NotFound("attempt");
        return TypedResults.Ok(
            new BoundariesView(
                attempt.Revision,
                attempt.StandingCorrection is { } standing ? CorrectionViews.One(standing) : null,
                CorrectionViews.Of(attempt.Corrections)
            )
        );
    }

    private static async Task<Results<Accepted<AttemptDetail>, ProblemHttpResult>> SetAsync(
        Guid id,
        PutBoundaries sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        AttemptRescoring rescoring,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await LoadAsync(db, id, ct) is not { } attempt)
            return Problems.NotFound("attempt");
        if (Overtaken(attempt, sent.Revision) is { } overtaken)
            return overtaken;
        if (attempt.Corrections.Count >= MostCorrections)
        {
            return Problems.Conflict(
                "too-many-corrections",
                $"This attempt was corrected {MostCorrections} times, which is the most: upload its recording again to start anew."
            );
        }

        if (Incomplete(sent) is { } incomplete)
            return Problems.Unprocessable("corrections", incomplete);
        var byHand = new ManualCorrections(
            [.. (sent.Segments ?? []).OrderBy(s => s.Index)],
            [.. (sent.Excluded ?? []).OrderBy(s => s.StartUtc)],
            sent.Run
        );
        if (await AttemptDetails.OwnReportAsync(db, id, ct) is not { } own)
            return Problems.Conflict("not-scored", "This attempt is not scored yet: correct it once the engine's own report is there.");
        if (CorrectionCheck.Problem(byHand, own) is { } problem)
            return Problems.Unprocessable("corrections", problem);
        if (byHand.IsEmpty && sent.QnhHpa is null && sent.WindKt is null)
        {
            return Problems.Unprocessable(
                "corrections",
                "Nothing is set by hand here: to go back to the engine's own boundaries, DELETE them."
            );
        }

        var correction = new AttemptCorrection
        {
            AttemptId = id,
            Revision = attempt.Revision + 1,
            SchoolId = me.SchoolId,
            PersonId = me.Id,
            AtUtc = clock.GetUtcNow(),
            Reason = GradeWords.Kept(sent.Reason),
            Undone = false,
            ByHand = byHand,
            QnhHpa = sent.QnhHpa,
            WindFromDegTrue = sent.WindFromDegTrue,
            WindKt = sent.WindKt,
        };
        return await QueueAsync(attempt, correction, CorrectionWords.Deed(correction, attempt, own), me, db, rescoring, ct);
    }

    private static async Task<Results<Accepted<AttemptDetail>, ProblemHttpResult>> UndoAsync(
        Guid id,
        int? revision,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        AttemptRescoring rescoring,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await LoadAsync(db, id, ct) is not { } attempt)
            return Problems.NotFound("attempt");
        if (Overtaken(attempt, revision) is { } overtaken)
            return overtaken;
        if (attempt.StandingCorrection is not { } standing)
            return Problems.Conflict("not-corrected", "Nothing is set by hand on this attempt: its boundaries are the engine's own.");
        var undoing = new AttemptCorrection
        {
            AttemptId = id,
            Revision = attempt.Revision + 1,
            SchoolId = me.SchoolId,
            PersonId = me.Id,
            AtUtc = clock.GetUtcNow(),
            Undone = true,
            ByHand = new ManualCorrections(),
        };
        return await QueueAsync(
            attempt,
            undoing,
            $"before: {CorrectionWords.Of(standing)}; after: the engine's own",
            me,
            db,
            rescoring,
            ct
        );
    }

    private static async Task<Results<Accepted<AttemptDetail>, ProblemHttpResult>> QueueAsync(
        Attempt attempt,
        AttemptCorrection correction,
        string detail,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        AttemptRescoring rescoring,
        CancellationToken ct
    )
    {
        db.AttemptCorrections.Add(correction);
        db.AuditEntries.Add(
            AuditEntry.By(
                me,
                correction.AtUtc,
                correction.Undone ? "corrections-undone" : "attempt-corrected",
                "attempt",
                attempt.Id,
                detail.Length > 2000 ? detail[..1999] + "…" : detail
            )
        );
        if (!await rescoring.QueueAsync(attempt, ct))
        {
            var now = await LoadAsync(db, attempt.Id, ct);
            return now is null ? Problems.NotFound("attempt") : Overtaken(now, now.Revision - 1)!;
        }

        return TypedResults.Accepted($"/api/v1/attempts/{attempt.Id}", (await AttemptDetails.OfAsync(db, attempt.Id, me, ct))!);
    }

    private static Task<Attempt?> LoadAsync(SchoolDrillsDbContext db, Guid id, CancellationToken ct) =>
        db.Attempts.Include(a => a.Corrections).ThenInclude(c => c.Person).FirstOrDefaultAsync(a => a.Id == id, ct);

    private static ProblemHttpResult? Overtaken(Attempt attempt, int? seen)
    {
        if (seen is null || seen == attempt.Revision)
            return null;
        return Problems.Conflict(
            "attempt-overtaken",
            attempt.Corrections.MaxBy(c => c.Revision) is { } last && last.Revision == attempt.Revision
                ? $"{last.Person.DisplayName} "
                    + $"{(last.Undone ? "took the corrections back" : "corrected this attempt")} meanwhile; yours "
                    + "were not put over it. Look at how it stands now and send yours again."
                : "This attempt was changed meanwhile; look at how it stands now and send your corrections again."
        );
    }

    private static string? Incomplete(PutBoundaries sent)
    {
        if (sent.Reason?.Length > LongestReason)
            return $"The reason is longer than {LongestReason} characters.";
        if (sent.Segments?.Any(s => s is null || (s.StartUtc is null && s.EndUtc is null)) is true)
            return "Each of segments needs a startUtc, an endUtc or both; leave out those that stay as the engine has them.";
        if (sent.Excluded?.Count > MostStretches)
            return $"At most {MostStretches} stretches are left out.";
        if (
            sent.Excluded?.FirstOrDefault(s => s is null || string.IsNullOrWhiteSpace(s.Reason) || s.Reason.Length > 500) is not null
            || sent.Excluded?.Contains(null!) is true
        )
        {
            return "Each stretch left out needs its reason, in at most 500 characters.";
        }

        return AttemptScoring.Problem(
            new AttemptMeta
            {
                QnhHpa = sent.QnhHpa,
                WindFromDegTrue = sent.WindFromDegTrue,
                WindKt = sent.WindKt,
            }
        );
    }
}
