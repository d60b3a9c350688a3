using System.Security.Cryptography;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using Npgsql;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.Watching;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Uploads;

/// <summary>What an upload is for.</summary>
internal sealed record IntakeFor(
    Guid SchoolId,
    DrillVersion Drill,
    Guid StudentId,
    Guid? AssignmentId,
    Guid UploadedById,
    AttemptMeta Meta,
    string? Aircraft = null
)
{
    /// <summary>Bytes of the pending recording that is dropped once this is kept.</summary>
    public long FreedBytes { get; init; }
}

/// <summary>
/// Takes in a recording that has been found readable: attempt, bytes and audit are one transaction. By being stored it is queued.
/// </summary>
internal sealed class AttemptIntake(
    SchoolDrillsDbContext db,
    SchoolRoom room,
    Instruments instruments,
    TimeProvider clock,
    ILogger<AttemptIntake> log
)
{
    /// <returns>
    /// The attempt, and whether it is new: the same bytes for the same work give the first attempt again; or why the school may not keep
    /// it.
    /// </returns>
    public async Task<(Attempt? Attempt, bool IsNew, ProblemHttpResult? Problem)> AcceptAsync(
        UploadedTrack track,
        IntakeFor work,
        CancellationToken ct
    )
    {
        var sha256 = Convert.ToHexStringLower(await SHA256.HashDataAsync(track.Open(), ct));
        if (await SameAsync(work, sha256, ct) is { } known)
            return (known, false, null);

        var attempt = new Attempt
        {
            SchoolId = work.SchoolId,
            StudentId = work.StudentId,
            AssignmentId = work.AssignmentId,
            DrillVersionId = work.Drill.Id,
            Aircraft = work.Aircraft,
            UploadedById = work.UploadedById,
            UploadedAtUtc = clock.GetUtcNow(),
            FileName = SafeName(track.FileName),
            FileBytes = track.Length,
            Sha256 = sha256,
            Meta = work.Meta,
            TraceParent = Traces.Parent,
        };
        db.Attempts.Add(attempt);
        var kept = StoredBytes.Of(track.Open, track.Length);
        db.TrackFiles.Add(TrackFile.Of(attempt.Id, work.SchoolId, kept));
        foreach (var sent in (work.Meta.Events ?? []).DistinctBy(e => e.Id))
        {
            db.AttemptEvents.Add(
                new AttemptEventRow
                {
                    AttemptId = attempt.Id,
                    Id = sent.Id,
                    SchoolId = work.SchoolId,
                    Kind = sent.Kind,
                    AtUtc = sent.AtUtc.ToUniversalTime(),
                    Detail = sent.Detail,
                    NotedById = work.UploadedById,
                }
            );
        }

        foreach (var (rating, number) in (work.Meta.LoadRatings ?? []).Select((rating, i) => (rating, i + 1)))
        {
            db.LoadRatings.Add(
                new LoadRatingRow
                {
                    AttemptId = attempt.Id,
                    Number = number,
                    SaidBy = work.UploadedById == work.StudentId ? LoadSource.Student : LoadSource.Instructor,
                    EnteredById = work.UploadedById,
                    SchoolId = work.SchoolId,
                    Rating = rating,
                }
            );
        }

        db.AuditEntries.Add(
            new AuditEntry
            {
                SchoolId = work.SchoolId,
                AtUtc = attempt.UploadedAtUtc,
                PersonId = work.UploadedById,
                Action = "attempt-uploaded",
                Subject = "attempt",
                SubjectId = attempt.Id,
                Detail = attempt.FileName,
            }
        );
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        if (await room.RefusalAsync(kept.Content.Length - work.FreedBytes, isUpload: true, attempt.UploadedAtUtc, ct) is { } problem)
            return (null, false, problem);
        try
        {
            await db.SaveChangesAsync(ct);
            await transaction.CommitAsync(ct);
        }
        catch (DbUpdateException e) when (e.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation })
        {
            // The same file came twice at once: the other one won.
            await transaction.RollbackAsync(ct);
            db.ChangeTracker.Clear();
            if (await SameAsync(work, sha256, ct) is { } other)
                return (other, false, null);
            throw;
        }

        instruments.Accepted(attempt.FileBytes);
        log.LogInformation("Attempt {AttemptId} is stored, {FileBytes} bytes", attempt.Id, attempt.FileBytes);
        return (attempt, true, null);
    }

    private Task<Attempt?> SameAsync(IntakeFor work, string sha256, CancellationToken ct) =>
        db
            .Attempts.AsNoTracking()
            .FirstOrDefaultAsync(
                a =>
                    a.Sha256 == sha256
                    && a.StudentId == work.StudentId
                    && a.AssignmentId == work.AssignmentId
                    && (work.AssignmentId != null || a.DrillVersionId == work.Drill.Id),
                ct
            );

    /// <summary>
    /// The bare name without path, control characters or marks of direction; it is shown and offered for download, never used as a path.
    /// </summary>
    public static string SafeName(string name)
    {
        var bare = name.Split('/', '\\')[^1];
        var clean = new string([.. Names.Plain(bare).Where(c => c is not ('"' or '<' or '>' or ':' or '|' or '?' or '*'))]).Trim(' ', '.');
        return clean.Length == 0 ? "track"
            : clean.Length > 200 ? clean[^200..]
            : clean;
    }
}
