using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Uploads;

/// <summary>Recordings coming in: for an assignment, as a free attempt, or to be scored once and not kept.</summary>
internal static class UploadEndpoints
{
    public static void MapUploads(this RouteGroupBuilder api)
    {
        api.MapPost("/assignments/{id:guid}/attempts", ForAssignmentAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithMetadata(UploadLimits.Body)
            .WithSummary(
                "Uploads a recording for an assignment: multipart with the file as track and what is known of the day as meta (JSON)"
            );
        api.MapPost("/attempts", WithoutAssignmentAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithMetadata(UploadLimits.Body)
            .WithSummary("Uploads a recording without an assignment; drill and studentId stand in meta");
        api.MapPost("/score-preview", PreviewAsync)
            .RequireAuthorization(Policies.SignedIn)
            .RequireRateLimiting(RateLimits.Preview)
            .WithMetadata(UploadLimits.Body)
            .WithSummary(
                "Scores a recording without keeping it: multipart with track, drill (slug) and options (JSON "
                    + "as meta); with columns=true the answer is {report, track}"
            );
    }

    private static async Task<Results<Accepted<AttemptAccepted>, Ok<AttemptAccepted>, ProblemHttpResult>> ForAssignmentAsync(
        Guid id,
        HttpRequest request,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        UploadReading reading,
        AttemptIntake intake,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        // Before the body is read: who may not send it here need not send it.
        if ((await AssignedAsync(id, new AttemptMeta(), me, db, ct)).Problem is { } refusal)
            return refusal;
        var (form, problem) = await UploadForm.ReadAsync(request, ct);
        if (problem is not null)
            return problem;
        var (work, changed) = await AssignedAsync(id, form!.Meta, me, db, ct);
        return changed is not null ? changed : await KeepAsync(form, work!, me, db, reading, intake, clock, ct);
    }

    private static async Task<Results<Accepted<AttemptAccepted>, Ok<AttemptAccepted>, ProblemHttpResult>> WithoutAssignmentAsync(
        HttpRequest request,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        UploadReading reading,
        AttemptIntake intake,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var (form, problem) = await UploadForm.ReadAsync(request, ct);
        if (problem is not null)
            return problem;
        var (work, refusal) = await FreeAsync(form!.Meta, form.Drill, me, db, ct);
        return refusal is not null ? refusal : await KeepAsync(form, work!, me, db, reading, intake, clock, ct);
    }

    /// <summary>An assignment as what a recording is for, or why not.</summary>
    public static async Task<(IntakeFor? Work, ProblemHttpResult? Problem)> AssignedAsync(
        Guid id,
        AttemptMeta meta,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        var assignment = await db
            .Assignments.AsNoTracking()
            .VisibleTo(me)
            .Include(a => a.DrillVersion)
            .FirstOrDefaultAsync(a => a.Id == id, ct);
        if (assignment is null)
            return (null, Problems.NotFound("assignment"));
        if (assignment.CancelledAtUtc is not null)
        {
            return (
                null,
                Problems.Conflict(
                    "assignment-cancelled",
                    "This assignment was taken back: upload the recording as a free attempt, or ask your instructor."
                )
            );
        }

        var aircraft = meta.Aircraft ?? assignment.Overrides?.Aircraft;
        return meta.Aircraft is not null && await AircraftProblemAsync(db, aircraft, ct) is { } problem
            ? (null, problem)
            : (new IntakeFor(me.SchoolId, assignment.DrillVersion, assignment.StudentId, id, me.Id, meta, aircraft), null);
    }

    /// <summary>A drill flown without an assignment as what a recording is for, or why not.</summary>
    public static async Task<(IntakeFor? Work, ProblemHttpResult? Problem)> FreeAsync(
        AttemptMeta meta,
        string? drillSlug,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        var studentId = meta.StudentId ?? me.Id;
        if (!me.MaySee(studentId) || !await db.People.AnyAsync(p => p.Id == studentId && p.Roles.Contains(Roles.Student), ct))
            return (null, Problems.Unprocessable("student", "studentId in meta is not a student of this school."));
        if (await DrillEndpoints.FindAsync(db, me, drillSlug ?? "", null, ct) is not { } drill)
            return (null, Problems.Unprocessable("drill", $"There is no published drill '{drillSlug}': give its slug as drill in meta."));
        return await AircraftProblemAsync(db, meta.Aircraft, ct) is { } problem
            ? (null, problem)
            : (new IntakeFor(me.SchoolId, drill, studentId, null, me.Id, meta, meta.Aircraft), null);
    }

    private static async Task<ProblemHttpResult?> AircraftProblemAsync(SchoolDrillsDbContext db, string? slug, CancellationToken ct) =>
        slug is null || await db.Aircraft.AnyAsync(a => a.Slug == slug, ct)
            ? null
            : Problems.Unprocessable(
                "aircraft",
                $"The school has no aircraft profile '{slug}': take a slug that GET aircraft lists, or leave it out."
            );

    public static async Task<Results<Accepted<AttemptAccepted>, Ok<AttemptAccepted>, ProblemHttpResult>> KeepAsync(
        UploadForm form,
        IntakeFor work,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        UploadReading reading,
        AttemptIntake intake,
        TimeProvider clock,
        CancellationToken ct
    ) =>
        await UploadLimits.SpentAsync(me, db, clock.GetUtcNow(), ct) is { } spent
            ? spent
            : await EngineSlots.RunAsync(() => ReadAndKeepAsync(form, work, me, reading, intake, ct), ct);

    private static async Task<Results<Accepted<AttemptAccepted>, Ok<AttemptAccepted>, ProblemHttpResult>> ReadAndKeepAsync(
        UploadForm form,
        IntakeFor work,
        CurrentPerson me,
        UploadReading reading,
        AttemptIntake intake,
        CancellationToken ct
    )
    {
        // Read before it is kept, so that what cannot be read leaves nothing behind.
        var (track, meta, problem) = await reading.ReadAsync(form, ct);
        if (problem is not null)
            return problem;
        if (meta.RememberColumns is true && track!.Header is { } header)
            reading.Remember(header, meta.Columns, me);
        var (attempt, isNew, refusal) = await intake.AcceptAsync(form.File, work with { Meta = meta }, ct);
        if (refusal is not null)
            return refusal;
        var accepted = new AttemptAccepted(attempt!.Id, attempt.Status);
        return isNew ? TypedResults.Accepted($"/api/v1/attempts/{attempt.Id}", accepted) : TypedResults.Ok(accepted);
    }

    private static async Task<Results<Ok<ScoreReport>, Ok<ScoredPreview>, ProblemHttpResult>> PreviewAsync(
        HttpRequest request,
        bool? columns,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        UploadReading reading,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var (form, problem) = await UploadForm.ReadAsync(request, ct);
        if (problem is not null)
            return problem;
        if (await DrillEndpoints.FindAsync(db, me, form!.Drill ?? "", null, ct) is not { } drill)
            return Problems.Unprocessable("drill", $"There is no published drill '{form.Drill}': give its slug in the part named drill.");
        var standard = await db
            .Standards.AsNoTracking()
            .Where(s => s.Slug == drill.Template.StandardSlug)
            .Select(s => s.Standard)
            .FirstOrDefaultAsync(ct);
        if (standard is null)
            return Problems.Unprocessable("standard", $"The school has no tolerance standard {drill.Template.StandardSlug}.");
        var answer = await EngineSlots.RunAsync(ReadAndScoreAsync, ct);
        if (me.IsChief && answer.Result is not ProblemHttpResult)
            await NoteTriedAsync(db, clock.GetUtcNow(), ct);
        return answer;

        async Task<Results<Ok<ScoreReport>, Ok<ScoredPreview>, ProblemHttpResult>> ReadAndScoreAsync()
        {
            var (track, meta, unreadable) = await reading.ReadAsync(form, ct);
            if (unreadable is not null)
                return unreadable;
            var template = drill.Template with { Version = drill.Version };
            var scored = AttemptScorer.Score(track!, template, standard, AttemptScoring.Options(meta, null), cancellation: ct);
            return columns is true ? TypedResults.Ok(new ScoredPreview(scored.Report, scored.Columns)) : TypedResults.Ok(scored.Report);
        }
    }

    /// <summary>The guide for a new school asks whether one was tried; that it was is all that stays of a preview.</summary>
    private static Task<int> NoteTriedAsync(SchoolDrillsDbContext db, DateTimeOffset now, CancellationToken ct) =>
        db.Schools.Where(s => s.RecordingTriedAtUtc == null).ExecuteUpdateAsync(s => s.SetProperty(x => x.RecordingTriedAtUtc, now), ct);
}
