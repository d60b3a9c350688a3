using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Api.Uploads;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Api.Drafts;

/// <summary>A recording of the school against a drill that is still a draft, to see how the draft judges. Nothing is kept.</summary>
internal static class TrialEndpoints
{
    public static void MapDraftTrial(this RouteGroupBuilder api) =>
        api.MapPost("/drills/{slug}/draft/trial", TryAsync)
            .RequireAuthorization(Policies.Drafting)
            .RequireRateLimiting(RateLimits.Preview)
            .WithSummary("Scores a stored attempt's recording against the draft and its standard; nothing is stored");

    private static async Task<Results<Ok<ScoreReport>, ProblemHttpResult>> TryAsync(
        string slug,
        TryDraft asked,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (await DraftStore.FindAsync(db, slug, ct) is not { } draft)
            return Problems.NotFound("draft");
        if (await DraftStore.ProblemsAsync(draft.Template, db, ct) is [var first, ..] problems)
            return Problems.Unprocessable("template", first, problems);
        var attempt = await db.Attempts.AsNoTracking().VisibleTo(me).FirstOrDefaultAsync(a => a.Id == asked.AttemptId, ct);
        if (attempt is null)
            return Problems.NotFound("attempt");
        var standard = await db
            .Standards.AsNoTracking()
            .Where(s => s.Slug == draft.Template.StandardSlug)
            .Select(s => s.Standard)
            .SingleAsync(ct);
        var overrides = await db.Assignments.Where(a => a.Id == attempt.AssignmentId).Select(a => a.Overrides).FirstOrDefaultAsync(ct);
        var options = AttemptScoring.Options(attempt.Meta, overrides) with { Events = await EventsAsync(attempt.Id, db, ct) };
        return await EngineSlots.RunAsync(ScoreAsync, ct);

        async Task<Results<Ok<ScoreReport>, ProblemHttpResult>> ScoreAsync()
        {
            if (await db.TrackFiles.AsNoTracking().SingleOrDefaultAsync(f => f.AttemptId == attempt.Id, ct) is not { } file)
                return Problems.Unprocessable("recording", "The recording of this attempt was erased: try the draft with another one.");
            await using var original = file.OpenOriginal();
            var (track, unreadable) = TrackReader.Read(original, AttemptScoring.Reading(attempt.Meta), ct);
            return track is null
                ? Problems.Unreadable(unreadable!)
                : TypedResults.Ok(AttemptScorer.Score(track, draft.Template, standard, options, cancellation: ct).Report);
        }
    }

    private static async Task<IReadOnlyList<FlightEvent>?> EventsAsync(Guid attemptId, SchoolDrillsDbContext db, CancellationToken ct)
    {
        var events = await db
            .AttemptEvents.AsNoTracking()
            .Where(e => e.AttemptId == attemptId)
            .OrderBy(e => e.AtUtc)
            .Select(e => new FlightEvent(e.Kind, e.AtUtc, e.Detail))
            .ToListAsync(ct);
        return events.Count == 0 ? null : events;
    }
}
