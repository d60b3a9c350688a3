using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Uploads;

/// <summary>
/// Recordings that are looked at before they count: sent, checked against the work they may be for, then claimed or dropped. A phone's
/// share sheet sends here as well.
/// </summary>
internal static class PendingEndpoints
{
    public static void MapPending(this RouteGroupBuilder api)
    {
        var uploads = api.MapGroup("/uploads").RequireAuthorization(Policies.SignedIn);
        uploads
            .MapPost("", SendAsync)
            .WithMetadata(UploadLimits.Body)
            .WithSummary("Sends a recording that is to be looked at first: multipart with the file as track");
        uploads
            .MapGet("", ListAsync)
            .WithSummary("The recordings you sent that belong to no attempt yet, newest first, 200 a page; the header Link has the next");
        uploads
            .MapGet("/{id:guid}/check", CheckAsync)
            .RequireRateLimiting(RateLimits.Preview)
            .WithSummary("What a pending recording is of, and what speaks against using it");
        uploads.MapPost("/{id:guid}/attempt", ClaimAsync).WithSummary("Makes an attempt of a pending recording");
        uploads.MapDelete("/{id:guid}", DropAsync).WithSummary("Drops a pending recording");
    }

    /// <summary>
    /// Where a phone's share sheet posts to. The cookie is not sent along with a post from another site, so nobody else's page can.
    /// </summary>
    public static void MapSharing(this IEndpointRouteBuilder app) =>
        app.MapPost("/share", ShareAsync).AllowAnonymous().WithMetadata(UploadLimits.Body).DisableAntiforgery().ExcludeFromDescription();

    private static async Task<Results<Created<PendingUpload>, ProblemHttpResult>> SendAsync(
        HttpRequest request,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        UploadReading reading,
        SchoolRoom room,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var (form, problem) = await UploadForm.ReadAsync(request, ct);
        if (problem is not null)
            return problem;
        var (kept, refusal) = await KeepAsync(form!, me, db, reading, room, clock, ct);
        return refusal is not null ? refusal : TypedResults.Created($"/api/v1/uploads/{kept!.Id}", kept.View());
    }

    private static async Task<Results<Ok<IReadOnlyList<PendingUpload>>, ProblemHttpResult>> ListAsync(
        int? page,
        int? pageSize,
        HttpContext http,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (ListPage.Problem(page, pageSize) is { } problem)
            return problem;
        var part = ListPage.Of(page, pageSize);
        var since = clock.GetUtcNow() - PendingTrack.Life;
        var pending = db
            .PendingTracks.AsNoTracking()
            .Where(t => t.PersonId == me.Id && t.SentAtUtc > since)
            .OrderByDescending(t => t.SentAtUtc)
            .ThenByDescending(t => t.Id)
            .Select(t => new PendingUpload(t.Id, t.FileName, t.FileBytes, t.SentAtUtc, t.StartUtc, t.EndUtc));
        return TypedResults.Ok(part.Show(await part.Cut(pending).ToListAsync(ct), http));
    }

    private static async Task<Results<Ok<UploadCheck>, ProblemHttpResult>> CheckAsync(
        Guid id,
        Guid? assignmentId,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        UploadReading reading,
        CancellationToken ct
    )
    {
        if (await MineAsync(id, me, db, ct) is not { } pending)
            return Problems.NotFound("pending recording");
        return await EngineSlots.RunAsync(() => UploadMatching.CheckAsync(pending, assignmentId, me, db, reading, ct), ct) is { } check
            ? TypedResults.Ok(check)
            : Problems.NotFound("assignment");
    }

    private static async Task<Results<Accepted<AttemptAccepted>, Ok<AttemptAccepted>, ProblemHttpResult>> ClaimAsync(
        Guid id,
        ClaimUpload claim,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        UploadReading reading,
        AttemptIntake intake,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await MineAsync(id, me, db, ct) is not { } pending)
            return Problems.NotFound("pending recording");
        var meta = claim.Meta ?? pending.Meta;
        if (AttemptScoring.Problem(meta) is { } untrue)
            return Problems.Unprocessable("meta", untrue);
        var (work, problem) = claim.AssignmentId is { } assignmentId
            ? await UploadEndpoints.AssignedAsync(assignmentId, meta, me, db, ct)
            : await UploadEndpoints.FreeAsync(meta, meta.Drill, me, db, ct);
        if (problem is not null)
            return problem;
        var answer = await UploadEndpoints.KeepAsync(
            pending.Form(meta),
            work! with
            {
                FreedBytes = pending.Content.Length,
            },
            me,
            db,
            reading,
            intake,
            clock,
            ct
        );
        if (answer.Result is not ProblemHttpResult)
            await db.PendingTracks.Where(t => t.Id == id).ExecuteDeleteAsync(ct);
        return answer;
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> DropAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    ) =>
        await db.PendingTracks.Where(t => t.Id == id && t.PersonId == me.Id).ExecuteDeleteAsync(ct) > 0
            ? TypedResults.NoContent()
            : Problems.NotFound("pending recording");

    private static async Task<RedirectHttpResult> ShareAsync(
        HttpContext http,
        SchoolDrillsDbContext db,
        UploadReading reading,
        SchoolRoom room,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (http.Features.Get<CurrentPerson>() is not { } me)
            return TypedResults.LocalRedirect("/sign-in?returnUrl=%2Fupload%3Fshared%3Dsign-in");
        var (form, problem) = await UploadForm.ReadAsync(http.Request, ct);
        if (problem is null)
            (_, problem) = await KeepAsync(form!, me, db, reading, room, clock, ct);
        // The page shows the refusal in the words of the API.
        return TypedResults.LocalRedirect(
            problem is null ? "/upload" : $"/upload?refused={Uri.EscapeDataString(problem.ProblemDetails.Detail ?? "")}",
            permanent: false,
            preserveMethod: false
        );
    }

    private static Task<(PendingTrack? Kept, ProblemHttpResult? Problem)> KeepAsync(
        UploadForm form,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        UploadReading reading,
        SchoolRoom room,
        TimeProvider clock,
        CancellationToken ct
    ) => EngineSlots.RunAsync(() => ReadAndKeepAsync(form, me, db, reading, room, clock, ct), ct);

    private static async Task<(PendingTrack? Kept, ProblemHttpResult? Problem)> ReadAndKeepAsync(
        UploadForm form,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        UploadReading reading,
        SchoolRoom room,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var (track, meta, problem) = await reading.ReadAsync(form, ct);
        if (problem is not null)
            return (null, problem);
        var now = clock.GetUtcNow();
        var (squeezed, content) = StoredBytes.Of(form.File.Open, form.File.Length);
        // The same file sent again waits once, unless it is to be read by other columns.
        var same = await db
            .PendingTracks.AsNoTracking()
            .Where(t => t.PersonId == me.Id && t.SentAtUtc > now - PendingTrack.Life)
            .FirstOrDefaultAsync(t => t.FileBytes == form.File.Length && t.Squeezed == squeezed && t.Content == content, ct);
        if (same is { Meta.Columns: null } && meta.Columns is null)
            return (same, null);
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        if (await room.RefusalAsync(content.Length - (same?.Content.Length ?? 0), isUpload: false, now, ct) is { } refusal)
            return (null, refusal);
        if (same is not null)
            await db.PendingTracks.Where(t => t.Id == same.Id).ExecuteDeleteAsync(ct);
        var pending = new PendingTrack
        {
            SchoolId = me.SchoolId,
            PersonId = me.Id,
            SentAtUtc = now,
            FileName = AttemptIntake.SafeName(form.File.FileName),
            FileBytes = form.File.Length,
            StartUtc = track!.EpochUtc.AddSeconds(track.TimeS.Min()),
            EndUtc = track.EpochUtc.AddSeconds(track.TimeS.Max()),
            Meta = meta,
            Squeezed = squeezed,
            Content = content,
        };
        db.PendingTracks.Add(pending);
        await db.SaveChangesAsync(ct);
        var kept = await db
            .PendingTracks.Where(t => t.PersonId == me.Id && t.SentAtUtc > now - PendingTrack.Life)
            .OrderByDescending(t => t.SentAtUtc)
            .Take(PendingTrack.Most)
            .Select(t => t.Id)
            .ToListAsync(ct);
        await db.PendingTracks.Where(t => t.PersonId == me.Id && !kept.Contains(t.Id)).ExecuteDeleteAsync(ct);
        await transaction.CommitAsync(ct);
        return (pending, null);
    }

    private static Task<PendingTrack?> MineAsync(Guid id, CurrentPerson me, SchoolDrillsDbContext db, CancellationToken ct) =>
        db.PendingTracks.AsNoTracking().FirstOrDefaultAsync(t => t.Id == id && t.PersonId == me.Id, ct);
}
