using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.Notices;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Assignments;

internal static class AssignmentEndpoints
{
    private static readonly string[] States = ["open", "overdue", "flown", "graded", "cancelled"];

    public static void MapAssignments(this RouteGroupBuilder api)
    {
        var assignments = api.MapGroup("/assignments");
        assignments
            .MapGet("", ListAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("Assignments of a student, or of the school; cancelled ones only when asked for");
        assignments.MapGet("/{id:guid}", GetAsync).RequireAuthorization(Policies.SignedIn).WithSummary("One assignment, with its plan");
        assignments
            .MapPost("", CreateAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Assigns a drill to one or more students");
        assignments
            .MapPost("/{id:guid}/cancel", CancelAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Takes an assignment back; its attempts stay");
    }

    private static async Task<Results<Ok<IReadOnlyList<AssignmentSummary>>, ProblemHttpResult>> ListAsync(
        Guid? studentId,
        [Words("open", "overdue", "flown", "graded", "cancelled")] string? state,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (state is not null && !States.Contains(state))
            return Problems.Invalid("unknown-state", $"state is one of {string.Join(", ", States)}, not '{state}'.");
        if (studentId is { } asked && !me.MaySee(asked))
            return Problems.NotFound("student");
        var query = db.Assignments.VisibleTo(me).Where(a => studentId == null || a.StudentId == studentId);
        query = state == "cancelled" ? query.Where(a => a.CancelledAtUtc != null) : query.Where(a => a.CancelledAtUtc == null);
        var summaries = await SummariesAsync(query, me, db, clock, ct);
        return TypedResults.Ok<IReadOnlyList<AssignmentSummary>>([.. summaries.Where(s => state is null || s.State == state)]);
    }

    private static async Task<Results<Ok<AssignmentSummary>, ProblemHttpResult>> GetAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await SummariesAsync(db.Assignments.VisibleTo(me).Where(a => a.Id == id), me, db, clock, ct) is not [var one])
            return Problems.NotFound("assignment");
        var row = await db.Assignments.AsNoTracking().Include(a => a.DrillVersion).FirstAsync(a => a.Id == id, ct);
        var plan = await AssignmentPlanEndpoints.OfAsync(db, me, row, row.DrillVersion.Template, row.DrillVersion.Version, ct);
        return TypedResults.Ok(one with { Plan = plan });
    }

    private static async Task<Results<Created<IReadOnlyList<AssignmentSummary>>, ProblemHttpResult>> CreateAsync(
        CreateAssignment asked,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var studentIds = (asked.StudentIds ?? []).Distinct().ToList();
        if (studentIds.Count is 0 or > 100)
            return Problems.Invalid("students", "Name between one and a hundred students in studentIds.");
        if (asked.Notes?.Length > 2000)
            return Problems.Invalid("notes", "Notes are at most 2,000 characters.");
        var known = await db.People.CountAsync(p => studentIds.Contains(p.Id) && p.Active && p.Roles.Contains(Roles.Student), ct);
        if (known != studentIds.Count)
            return Problems.Unprocessable("students", "At least one of studentIds is not an active student of this school.");
        if (await DrillEndpoints.FindAsync(db, me, asked.DrillSlug ?? "", null, ct) is not { } drill)
            return Problems.Unprocessable("drill", $"There is no published drill '{asked.DrillSlug}'.");
        if (EntryProblem(drill.Template, asked.Overrides) is { } problem)
            return Problems.Unprocessable("overrides", problem);
        var standard = asked.Overrides?.StandardSlug;
        if (standard is not null && !await db.Standards.AnyAsync(s => s.Slug == standard && s.RetiredAtUtc == null, ct))
            return Problems.Unprocessable("standard", $"The school has no tolerance standard '{standard}', or has retired it.");
        if (asked.Overrides?.Aircraft is { } aircraft && !await db.Aircraft.AnyAsync(a => a.Slug == aircraft, ct))
            return Problems.Unprocessable("aircraft", $"The school has no aircraft profile '{aircraft}'.");

        // Whoever else gives the drill unless it is given waits here until this one is written.
        await using var transaction = asked.UnlessOpen ? await db.Database.BeginTransactionAsync(ct) : null;
        var open = new List<Assignment>();
        if (asked.UnlessOpen)
        {
            await db.Database.ExecuteSqlAsync(
                $"select pg_advisory_xact_lock(hashtextextended({$"assign {me.SchoolId} {drill.Slug}"}, 0))",
                ct
            );
            open = await ToFly(db.Assignments.VisibleTo(me))
                .Where(a => studentIds.Contains(a.StudentId) && a.DrillVersion.Slug == drill.Slug)
                .ToListAsync(ct);
        }

        var made = studentIds
            .FindAll(id => open.TrueForAll(a => a.StudentId != id))
            .ConvertAll(studentId => new Assignment
            {
                SchoolId = me.SchoolId,
                StudentId = studentId,
                DrillVersionId = drill.Id,
                AssignedById = me.Id,
                AssignedAtUtc = clock.GetUtcNow(),
                DueOn = asked.DueOn,
                Notes = string.IsNullOrWhiteSpace(asked.Notes) ? null : asked.Notes.Trim(),
                Overrides = asked.Overrides,
            });
        db.Assignments.AddRange(made);
        db.AuditEntries.AddRange(made.Select(a => Deed(me, clock, "drill-assigned", a.Id, drill.Slug)));
        db.Notices.AddRange(made.Select(a => Told(a, drill.Template.Title)));
        await db.SaveChangesAsync(ct);
        if (transaction is not null)
            await transaction.CommitAsync(ct);
        // Of several that a student has to fly, the one that is due first.
        var before = open.GroupBy(a => a.StudentId)
            .Select(g => g.OrderBy(a => a.DueOn is null).ThenBy(a => a.DueOn).First().Id)
            .ToHashSet();
        List<Guid> ids = [.. made.Select(a => a.Id), .. before];
        var summaries = await SummariesAsync(db.Assignments.Where(a => ids.Contains(a.Id)), me, db, clock, ct);
        return TypedResults.Created<IReadOnlyList<AssignmentSummary>>(
            "/api/v1/assignments",
            summaries.ConvertAll(s => s with { WasOpen = before.Contains(s.Id) })
        );
    }

    /// <summary>Those that nobody took back and for which nothing was flown that can be scored.</summary>
    public static IQueryable<Assignment> ToFly(IQueryable<Assignment> assignments) =>
        assignments.Where(a => a.CancelledAtUtc == null && !a.Flown);

    private static async Task<Results<NoContent, ProblemHttpResult>> CancelAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var assignment = await db.Assignments.VisibleTo(me).FirstOrDefaultAsync(a => a.Id == id, ct);
        if (assignment is null)
            return Problems.NotFound("assignment");
        if (assignment.CancelledAtUtc is not null)
            return TypedResults.NoContent();
        assignment.CancelledAtUtc = clock.GetUtcNow();
        db.AuditEntries.Add(Deed(me, clock, "assignment-cancelled", id, null));
        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }

    private static async Task<List<AssignmentSummary>> SummariesAsync(
        IQueryable<Assignment> query,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var rows = await query
            .AsNoTracking()
            .OrderBy(a => a.DueOn == null)
            .ThenBy(a => a.DueOn)
            .ThenBy(a => a.AssignedAtUtc)
            .Select(a => new
            {
                Assignment = a,
                Student = a.Student.DisplayName,
                Instructor = a.AssignedBy.DisplayName,
                a.DrillVersion.Slug,
                a.DrillVersion.Version,
                a.DrillVersion.Template,
                NotesWait = db
                    .FlightLogs.Where(l => l.AssignmentId == a.Id && l.AttemptId == null)
                    .Min(l => (DateTimeOffset?)(l.StartedAtUtc ?? l.ReceivedAtUtc)),
                LatestId = a.Attempts.OrderByDescending(x => x.UploadedAtUtc).Select(x => (Guid?)x.Id).FirstOrDefault(),
            })
            .ToListAsync(ct);
        var latest = await AttemptSummaries.ByIdAsync(
            db,
            [.. rows.Where(r => r.LatestId is not null).Select(r => r.LatestId!.Value)],
            me.IsStaff,
            ct
        );
        var today = rows.Count == 0 ? default : (await db.Schools.AsNoTracking().SingleAsync(ct)).Today(clock.GetUtcNow());
        return rows.ConvertAll(r =>
        {
            var attempt = r.LatestId is { } id ? latest.GetValueOrDefault(id) : null;
            var a = r.Assignment;
            return new AssignmentSummary(
                a.Id,
                a.StudentId,
                r.Student,
                r.Slug,
                r.Version,
                r.Template.Title,
                a.DueOn,
                a.Notes,
                a.Overrides,
                State(a, attempt, today),
                r.Instructor,
                a.AssignedAtUtc,
                attempt
            )
            {
                NotesWaitSinceUtc = r.NotesWait,
            };
        });
    }

    private static string State(Assignment assignment, AttemptSummary? latest, DateOnly today) =>
        assignment.CancelledAtUtc is not null ? "cancelled"
        : latest?.GradeState is "signed" or "acknowledged" ? "graded"
        : latest is not null && latest.Status != AttemptStatus.Unscorable ? "flown"
        : assignment.DueOn < today ? "overdue"
        : "open";

    private static string? EntryProblem(DrillTemplate template, AssignmentOverrides? overrides) =>
        TemplateProblems.Of(template, template.EntryWith(overrides)) is [var problem, ..] ? problem : null;

    private static Notice Told(Assignment made, string drillTitle) =>
        new()
        {
            SchoolId = made.SchoolId,
            PersonId = made.StudentId,
            StudentId = made.StudentId,
            Kind = NoticeKind.Assigned,
            CauseId = made.Id,
            AssignmentId = made.Id,
            DrillTitle = drillTitle,
            DueOn = made.DueOn,
            MadeAtUtc = made.AssignedAtUtc,
        };

    private static AuditEntry Deed(CurrentPerson me, TimeProvider clock, string action, Guid id, string? detail) =>
        new()
        {
            SchoolId = me.SchoolId,
            AtUtc = clock.GetUtcNow(),
            PersonId = me.Id,
            Action = action,
            Subject = "assignment",
            SubjectId = id,
            Detail = detail,
        };
}
