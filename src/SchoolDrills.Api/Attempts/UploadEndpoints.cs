using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Attempts;

/// <summary>Recordings coming in: for an assignment, as a free attempt, or to be scored once and not kept.</summary>
internal static class UploadEndpoints
{
    /// <summary>Room for the file and its fields; the file's own limit is checked part by part.</summary>
    private static readonly SizeLimit BodyLimit = new(AttemptScoring.MaxRawBytes + (4 << 20));

    /// <summary>Previews score in the request; more at once than there are cores would only make each slower.</summary>
    private static readonly SemaphoreSlim PreviewSlots = new(Math.Max(1, Environment.ProcessorCount));

    public static void MapUploads(this RouteGroupBuilder api)
    {
        api.MapPost("/assignments/{id:guid}/attempts", ForAssignmentAsync).RequireAuthorization(Policies.SignedIn).WithMetadata(BodyLimit)
            .WithSummary("Uploads a recording for an assignment: multipart with the file as track and what is known of the day as meta (JSON)");
        api.MapPost("/attempts", FreeAsync).RequireAuthorization(Policies.SignedIn).WithMetadata(BodyLimit)
            .WithSummary("Uploads a recording without an assignment; drill and studentId stand in meta");
        api.MapPost("/score-preview", PreviewAsync).RequireAuthorization(Policies.SignedIn).RequireRateLimiting(RateLimits.Preview).WithMetadata(BodyLimit)
            .WithSummary("Scores a recording without keeping it: multipart with track, drill (slug) and options (JSON as meta); with columns=true the answer is {report, track}");
    }

    private static async Task<Results<Accepted<AttemptAccepted>, Ok<AttemptAccepted>, ProblemHttpResult>> ForAssignmentAsync(
        Guid id, HttpRequest request, CurrentPerson me, SchoolDrillsDbContext db, AttemptIntake intake, CancellationToken ct)
    {
        var assignment = await db.Assignments.AsNoTracking().Include(a => a.DrillVersion).FirstOrDefaultAsync(a => a.Id == id && (me.SeesSchool || a.StudentId == me.Id), ct);
        if (assignment is null) return Problems.NotFound("assignment");
        if (assignment.CancelledAtUtc is not null) return Problems.Conflict("assignment-cancelled", "This assignment was taken back: upload the recording as a free attempt, or ask your instructor.");
        var (form, problem) = await UploadForm.ReadAsync(request, ct);
        return problem ?? await KeepAsync(form!, new IntakeFor(me.SchoolId, assignment.DrillVersion, assignment.StudentId, id, me.Id, form!.Meta), intake, ct);
    }

    private static async Task<Results<Accepted<AttemptAccepted>, Ok<AttemptAccepted>, ProblemHttpResult>> FreeAsync(
        HttpRequest request, CurrentPerson me, SchoolDrillsDbContext db, AttemptIntake intake, CancellationToken ct)
    {
        var (form, problem) = await UploadForm.ReadAsync(request, ct);
        if (problem is not null) return problem;
        var studentId = form!.Meta.StudentId ?? me.Id;
        if (!me.MaySee(studentId) || !await db.People.AnyAsync(p => p.Id == studentId && p.Roles.Contains(Roles.Student), ct)) return Problems.Unprocessable("student", "studentId in meta is not a student of this school.");
        if (await DrillEndpoints.FindAsync(db, me, form.Drill ?? "", null, ct) is not { } drill) return Problems.Unprocessable("drill", $"There is no published drill '{form.Drill}': give its slug as drill in meta.");
        return await KeepAsync(form, new IntakeFor(me.SchoolId, drill, studentId, null, me.Id, form.Meta), intake, ct);
    }

    private static async Task<Results<Accepted<AttemptAccepted>, Ok<AttemptAccepted>, ProblemHttpResult>> KeepAsync(UploadForm form, IntakeFor work, AttemptIntake intake, CancellationToken ct)
    {
        // Read before it is kept, so that what cannot be read leaves nothing behind.
        if (UploadForm.Read(form.File, ct).Problem is { } problem) return problem;
        var (attempt, isNew) = await intake.AcceptAsync(form.File, work, ct);
        var accepted = new AttemptAccepted(attempt.Id, attempt.Status);
        return isNew ? TypedResults.Accepted($"/api/v1/attempts/{attempt.Id}", accepted) : TypedResults.Ok(accepted);
    }

    private static async Task<Results<Ok<ScoreReport>, Ok<ScoredPreview>, ProblemHttpResult>> PreviewAsync(HttpRequest request, bool? columns, CurrentPerson me, SchoolDrillsDbContext db, CancellationToken ct)
    {
        var (form, problem) = await UploadForm.ReadAsync(request, ct);
        if (problem is not null) return problem;
        if (await DrillEndpoints.FindAsync(db, me, form!.Drill ?? "", null, ct) is not { } drill) return Problems.Unprocessable("drill", $"There is no published drill '{form.Drill}': give its slug in the part named drill.");
        var standard = await db.Standards.AsNoTracking().Where(s => s.Slug == drill.Template.StandardSlug).Select(s => s.Standard).FirstOrDefaultAsync(ct);
        if (standard is null) return Problems.Unprocessable("standard", $"The school has no tolerance standard {drill.Template.StandardSlug}.");
        await PreviewSlots.WaitAsync(ct);
        try
        {
            return await Task.Run(() => Score(form, drill, standard, columns is true, ct), ct);
        }
        finally
        {
            PreviewSlots.Release();
        }
    }

    private static Results<Ok<ScoreReport>, Ok<ScoredPreview>, ProblemHttpResult> Score(UploadForm form, DrillVersion drill, ToleranceStandard standard, bool withColumns, CancellationToken ct)
    {
        var (track, problem) = UploadForm.Read(form.File, ct);
        if (problem is not null) return problem;
        var scored = AttemptScorer.Score(track!, drill.Template with { Version = drill.Version }, standard, AttemptScoring.Options(form.Meta, null), cancellation: ct);
        return withColumns ? TypedResults.Ok(new ScoredPreview(scored.Report, scored.Columns)) : TypedResults.Ok(scored.Report);
    }

    private sealed record SizeLimit(long Bytes) : IRequestSizeLimitMetadata
    {
        public long? MaxRequestBodySize => Bytes;
    }
}
