using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Notices;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Grades;

/// <summary>Grading: drafted, signed, amended by instructors, acknowledged by the student.</summary>
internal static class GradeEndpoints
{
    private const int MostAmendments = 50;

    public static void MapGrades(this RouteGroupBuilder api)
    {
        api.MapGet("/attempts/{id:guid}/grade", GetAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("The grade as it stands: who is writing it, or who signed it");
        api.MapPost("/attempts/{id:guid}/grade", SaveAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Save a grade as a draft, or sign it");
        api.MapPost("/attempts/{id:guid}/grade/amend", AmendAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Amend a signed grade; the signed one stays");
        api.MapPost("/attempts/{id:guid}/grade/acknowledge", AcknowledgeAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("The student has read the signed grade");
    }

    private static async Task<Results<Ok<GradeStanding>, ProblemHttpResult>> GetAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    ) =>
        await db.Attempts.VisibleTo(me).AnyAsync(a => a.Id == id, ct)
            ? TypedResults.Ok(new GradeStanding(GradeViews.Of(GradeViews.SeenBy(me, await GradesAsync(db, id, ct)))))
            : Problems.NotFound("attempt");

    private static async Task<Results<Ok<GradeView>, ProblemHttpResult>> SaveAsync(
        Guid id,
        SaveGrade sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await WithGradesAsync(db, id, ct) is not { } attempt)
            return Problems.NotFound("attempt");
        var standing = attempt.Grades.MaxBy(g => g.Number);
        if (standing?.SignedAtUtc is not null)
            return AlreadySigned(standing);
        // Who names no revision goes on from his own draft, never over another's.
        if (sent.Revision is { } seen ? seen != (standing?.Revision ?? 0) : standing is not null && standing.InstructorId != me.Id)
            return Overtaken(standing);
        var words = await ReadAsync(db, attempt, sent.Overall, sent.Segments, sent.Comment, isDraft: !sent.Sign, ct);
        if (words.Refusal is { } refusal)
            return Problems.Unprocessable("grade", refusal);

        var now = clock.GetUtcNow();
        if (standing is null)
        {
            standing = new Grade
            {
                SchoolId = me.SchoolId,
                AttemptId = id,
                Number = 0,
                InstructorId = me.Id,
                Overall = words.Overall,
                Segments = words.Segments,
                SavedAtUtc = now,
            };
            db.Grades.Add(standing);
        }

        standing.InstructorId = me.Id;
        standing.Overall = words.Overall;
        standing.Segments = words.Segments;
        standing.Comment = words.Comment;
        standing.SavedAtUtc = now;
        if (sent.Sign)
        {
            standing.SignedAtUtc = now;
            standing.ReportId = attempt.LatestReportId;
            db.AuditEntries.Add(Entry(me, now, "grade-signed", id, words.Overall));
            await TellAsync(db, NoticeKind.Graded, attempt.StudentId, attempt, standing, now, ct);
        }

        return await SavedAsync(db, id, ct);
    }

    private static async Task<Results<Ok<GradeView>, ProblemHttpResult>> AmendAsync(
        Guid id,
        AmendGrade sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await WithGradesAsync(db, id, ct) is not { } attempt)
            return Problems.NotFound("attempt");
        if (attempt.Grades.MaxBy(g => g.Number) is not { SignedAtUtc: not null } standing)
        {
            return Problems.Conflict("not-signed", "Only a signed grade is amended: save and sign this one instead.");
        }

        if (standing.Number >= MostAmendments)
            return Problems.Conflict("too-many-amendments", $"This grade was amended {MostAmendments} times, which is the most.");
        var reason = GradeWords.Kept(sent.Reason);
        if (reason is null or { Length: > 2000 })
            return Problems.Unprocessable("amendment-reason", "An amendment needs its reason, in at most 2000 characters.");
        var words = await ReadAsync(db, attempt, sent.Overall, sent.Segments, sent.Comment, isDraft: false, ct);
        if (words.Refusal is { } refusal)
            return Problems.Unprocessable("grade", refusal);

        var now = clock.GetUtcNow();
        var amendment = new Grade
        {
            SchoolId = me.SchoolId,
            AttemptId = id,
            Number = standing.Number + 1,
            InstructorId = me.Id,
            Overall = words.Overall,
            Segments = words.Segments,
            Comment = words.Comment,
            AmendmentReason = reason,
            SavedAtUtc = now,
            SignedAtUtc = now,
            ReportId = attempt.LatestReportId,
        };
        db.Grades.Add(amendment);
        await TellAsync(db, NoticeKind.Amended, attempt.StudentId, attempt, amendment, now, ct);
        db.AuditEntries.Add(Entry(me, now, "grade-amended", id, reason));
        return await SavedAsync(db, id, ct);
    }

    private static async Task<Results<Ok<GradeView>, ProblemHttpResult>> AcknowledgeAsync(
        Guid id,
        AcknowledgeGrade? sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await WithGradesAsync(db, id, ct) is not { } attempt || !me.MaySee(attempt.StudentId))
            return Problems.NotFound("attempt");
        if (attempt.StudentId != me.Id)
            return Problems.Forbidden("Only the student whose attempt it is acknowledges its grade.");
        if (attempt.Grades.Where(g => g.SignedAtUtc is not null).MaxBy(g => g.Number) is not { } signed)
        {
            return Problems.Conflict("not-signed", "There is no signed grade to acknowledge yet.");
        }

        var reply = GradeWords.Kept(sent?.Reply);
        if (reply?.Length > 4000)
            return Problems.Unprocessable("reply", "The reply is longer than 4000 characters.");
        if (signed.Acknowledgement is null)
        {
            var now = clock.GetUtcNow();
            db.GradeAcknowledgements.Add(
                new GradeAcknowledgement
                {
                    GradeId = signed.Id,
                    SchoolId = me.SchoolId,
                    AtUtc = now,
                    Reply = reply,
                }
            );
            db.AuditEntries.Add(Entry(me, now, "grade-acknowledged", id, null));
            if (reply is not null)
                await TellAsync(db, NoticeKind.Replied, signed.InstructorId, attempt, signed, now, ct);
            try
            {
                await db.SaveChangesAsync(ct);
            }
            catch (DbUpdateException e) when (IsDouble(e))
            {
                // Sent twice at once: the other one is kept, and this answer is the same.
            }
        }

        return TypedResults.Ok(GradeViews.Of(GradeViews.SeenBy(me, await GradesAsync(db, id, ct)))!);
    }

    private static async Task<Results<Ok<GradeView>, ProblemHttpResult>> SavedAsync(
        SchoolDrillsDbContext db,
        Guid attemptId,
        CancellationToken ct
    )
    {
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateException e) when (e is DbUpdateConcurrencyException || IsDouble(e))
        {
            var standing = (await GradesAsync(db, attemptId, ct)).MaxBy(g => g.Number);
            return standing is { SignedAtUtc: not null, Number: 0 } ? AlreadySigned(standing) : Overtaken(standing);
        }

        return TypedResults.Ok(GradeViews.Of(await GradesAsync(db, attemptId, ct))!);
    }

    private static ProblemHttpResult AlreadySigned(Grade signed) =>
        Problems.Conflict(
            "already-signed",
            $"{signed.Instructor.DisplayName} has signed this grade, and a signed grade stays: amend it instead."
        );

    private static ProblemHttpResult Overtaken(Grade? standing) =>
        Problems.Conflict(
            "grade-overtaken",
            standing is null
                ? "The draft you started from is no longer there: load the attempt again."
                : $"{standing.Instructor.DisplayName} saved a grade of this attempt meanwhile; yours was not "
                    + "saved over it. Load the attempt again and go on from there."
        );

    private static async Task<GradeWords> ReadAsync(
        SchoolDrillsDbContext db,
        Attempt attempt,
        string? overall,
        IReadOnlyList<SegmentGrade>? segments,
        string? comment,
        bool isDraft,
        CancellationToken ct
    )
    {
        var scale = (await db.Schools.AsNoTracking().SingleAsync(ct)).GradeScale;
        var template = attempt.DrillVersion.Template;
        return GradeWords.Read(scale, DrillTimeline.Resolve(template, template.Entry).Segments.Count, overall, segments, comment, isDraft);
    }

    private static Task<Attempt?> WithGradesAsync(SchoolDrillsDbContext db, Guid id, CancellationToken ct) =>
        db
            .Attempts.Include(a => a.DrillVersion)
            .Include(a => a.Grades)
                .ThenInclude(g => g.Instructor)
            .Include(a => a.Grades)
                .ThenInclude(g => g.Acknowledgement)
            .FirstOrDefaultAsync(a => a.Id == id, ct);

    private static Task<List<Grade>> GradesAsync(SchoolDrillsDbContext db, Guid attemptId, CancellationToken ct) =>
        db
            .Grades.AsNoTracking()
            .Include(g => g.Instructor)
            .Include(g => g.Acknowledgement)
            .Where(g => g.AttemptId == attemptId)
            .ToListAsync(ct);

    private static async Task TellAsync(
        SchoolDrillsDbContext db,
        NoticeKind kind,
        Guid personId,
        Attempt attempt,
        Grade grade,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var about = (attempt.SchoolId, attempt.StudentId, attempt.Id, grade.Id, attempt.DrillVersion.Template.Title);
        if (await Notice.OfGradeAsync(db, kind, personId, about, now, ct) is { } notice)
            db.Notices.Add(notice);
    }

    private static bool IsDouble(DbUpdateException e) =>
        e.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation };

    private static AuditEntry Entry(CurrentPerson me, DateTimeOffset now, string action, Guid attemptId, string? detail) =>
        new()
        {
            SchoolId = me.SchoolId,
            AtUtc = now,
            PersonId = me.Id,
            Action = action,
            Subject = "attempt",
            SubjectId = attemptId,
            Detail = detail,
        };
}
