using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Api.Uploads;

/// <summary>What the columns of an attempt's CSV were taken as, and a person's word on it.</summary>
internal static class ColumnEndpoints
{
    public static void MapColumns(this RouteGroupBuilder api)
    {
        var columns = api.MapGroup("/attempts/{id:guid}/columns").RequireAuthorization(Policies.SignedIn);
        columns.MapGet("", GetAsync).WithSummary("The columns of a CSV with samples and what each was taken as; none for other formats");
        columns
            .MapPut("", SetAsync)
            .WithSummary(
                "Sets which column holds which quantity, in which unit, and re-scores the attempt; "
                    + "remember makes the school take the same header so from now on"
            );
    }

    private static async Task<Results<Ok<AttemptColumns>, ProblemHttpResult>> GetAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (await FindAsync(db, id, me, ct) is not { } attempt)
            return Problems.NotFound("attempt");
        var file = await db.TrackFiles.AsNoTracking().SingleAsync(f => f.AttemptId == id, ct);
        await using var original = file.OpenOriginal();
        var header = TrackReader.ReadHeader(original, AttemptScoring.Reading(attempt.Meta), ct);
        return TypedResults.Ok(
            new AttemptColumns(
                header?.Columns ?? [],
                attempt.Meta.Columns ?? new Dictionary<string, ColumnChoice>(),
                attempt.Meta.ColumnsRemembered is true,
                header is not null && MayChange(me, attempt)
            )
        );
    }

    private static async Task<Results<Accepted<AttemptAccepted>, ProblemHttpResult>> SetAsync(
        Guid id,
        SetColumns set,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        UploadReading reading,
        AttemptRescoring rescoring,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await FindAsync(db, id, me, ct) is not { } attempt)
            return Problems.NotFound("attempt");
        if (!MayChange(me, attempt))
            return Problems.Forbidden("The grade of this attempt is signed; ask your instructor to set its columns.");
        if (set.Columns is null)
            return Problems.Unprocessable("columns", "Give columns: quantity to column, empty to go by the names in the header.");
        if (AttemptScoring.Problem(set.Columns) is { } sentence)
            return Problems.Unprocessable("columns", sentence);

        var file = await db.TrackFiles.AsNoTracking().SingleAsync(f => f.AttemptId == id, ct);
        await using var original = file.OpenOriginal();
        var meta = attempt.Meta with { Columns = set.Columns.Count > 0 ? set.Columns : null, ColumnsRemembered = null };
        var read = TrackReader.Read(original, AttemptScoring.Reading(meta), ct);
        if (read.Problem is { } problem)
            return Problems.Unreadable(problem);
        if (read.Header is not { } header)
        {
            return Problems.Unprocessable(
                "columns",
                $"Only a CSV has columns to set; this recording is {read.Track!.Format.ToUpperInvariant()}."
            );
        }

        attempt.Meta = meta;
        if (set.Remember)
            reading.Remember(header, set.Columns, me);
        db.AuditEntries.Add(
            AuditEntry.By(
                me,
                clock.GetUtcNow(),
                "columns-set",
                "attempt",
                attempt.Id,
                set.Remember ? "remembered for the same header" : null
            )
        );
        return await rescoring.QueueAsync(attempt, ct)
            ? TypedResults.Accepted($"/api/v1/attempts/{attempt.Id}", new AttemptAccepted(attempt.Id, attempt.Status))
            : Problems.Conflict(
                "changed-meanwhile",
                "Somebody else changed this attempt meanwhile; load it again and set its columns then."
            );
    }

    private static Task<Attempt?> FindAsync(SchoolDrillsDbContext db, Guid id, CurrentPerson me, CancellationToken ct) =>
        db.Attempts.VisibleTo(me).Include(a => a.Grades).FirstOrDefaultAsync(a => a.Id == id, ct);

    /// <summary>
    /// A student until the grade is signed; the staff always, since each report is kept beside the grade it was signed with.
    /// </summary>
    private static bool MayChange(CurrentPerson me, Attempt attempt) => me.IsStaff || attempt.Grades.TrueForAll(g => g.SignedAtUtc is null);
}
