using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;

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
            .WithSummary(
                "Assignments of a student, or of the school, what is due first, first; cancelled ones only when asked for. 200 a page "
                    + "unless pageSize says otherwise; the header Link has the next"
            );
        assignments.MapGet("/{id:guid}", GetAsync).RequireAuthorization(Policies.SignedIn).WithSummary("One assignment, with its plan");
        assignments
            .MapGet("/before", AssignmentChoices.BeforeAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("What to look at before assigning: each student's last attempt at each drill, and whether it is given already");
        assignments
            .MapPost("", AssignmentMaking.CreateAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Assigns one or more drills to one or more students");
        assignments
            .MapPost("/cancel", CancelAllAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Takes several assignments back, all or none; their attempts stay");
        assignments
            .MapPost("/{id:guid}/cancel", CancelAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Takes an assignment back; its attempts stay");
    }

    private static async Task<Results<Ok<IReadOnlyList<AssignmentSummary>>, ProblemHttpResult>> ListAsync(
        Guid? studentId,
        [Words("open", "overdue", "flown", "graded", "cancelled")] string? state,
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
        if (state is not null && !States.Contains(state))
            return Problems.Invalid("unknown-state", $"state is one of {string.Join(", ", States)}, not '{state}'.");
        if (studentId is { } asked && !me.MaySee(asked))
            return Problems.NotFound("student");
        var today = (await db.Schools.AsNoTracking().SingleAsync(ct)).Today(clock.GetUtcNow());
        var all = db.Assignments.VisibleTo(me).Where(a => studentId == null || a.StudentId == studentId);
        var part = ListPage.Of(page, pageSize);
        var cut = part.Cut(DueFirst(InState(all, state, me.IsStaff, today, db)));
        return TypedResults.Ok(part.Show(await SummariesAsync(cut, me, db, clock, ct), http));
    }

    /// <summary>Those in a state, or that nobody took back: what <see cref="State"/> says of one, asked of the database.</summary>
    private static IQueryable<Assignment> InState(
        IQueryable<Assignment> all,
        string? state,
        bool withDrafts,
        DateOnly today,
        SchoolDrillsDbContext db
    )
    {
        if (state == "cancelled")
            return all.Where(a => a.CancelledAtUtc != null);
        var standing = all.Where(a => a.CancelledAtUtc == null);
        return state switch
        {
            null => standing,
            "graded" => Graded(standing, withDrafts, true),
            // Those that may be so by an index each, before each is looked at: what was graded long ago is most of them.
            "flown" => Graded(standing.Where(a => a.Flown && Ungraded(db).Contains(a.Id)), withDrafts, false),
            "overdue" => Graded(standing.Where(a => !a.Flown && a.DueOn < today), withDrafts, false),
            _ => Graded(standing.Where(a => !a.Flown && (a.DueOn == null || a.DueOn >= today)), withDrafts, false),
        };
    }

    /// <summary>Those whose newest attempt has a signed grade, with no draft of another after it; or the rest.</summary>
    private static IQueryable<Assignment> Graded(IQueryable<Assignment> assignments, bool withDrafts, bool graded) =>
        assignments.Where(a =>
            graded
            == a.Attempts.OrderByDescending(x => x.UploadedAtUtc)
                .Select(x =>
                    x.Grades.Where(g => withDrafts || g.SignedAtUtc != null)
                        .OrderByDescending(g => g.Number)
                        .Select(g => g.SignedAtUtc != null)
                        .FirstOrDefault()
                )
                .FirstOrDefault()
        );

    /// <summary>Assignments of attempts that are not graded, or not all of whose grades are signed.</summary>
    private static IQueryable<Guid> Ungraded(SchoolDrillsDbContext db) =>
        db
            .Attempts.Where(x => x.Verdict != null && x.GradedAtUtc == null && x.AssignmentId != null)
            .Select(x => x.AssignmentId!.Value)
            .Concat(
                db.Attempts.Where(x => x.Status == AttemptStatus.Unscorable && x.AssignmentId != null).Select(x => x.AssignmentId!.Value)
            )
            .Concat(
                db.Attempts.Where(x => (x.Status == AttemptStatus.Queued || x.Status == AttemptStatus.Scoring) && x.AssignmentId != null)
                    .Select(x => x.AssignmentId!.Value)
            )
            .Concat(
                db.Grades.Where(g => g.SignedAtUtc == null)
                    .Join(db.Attempts.Where(x => x.AssignmentId != null), g => g.AttemptId, x => x.Id, (g, x) => x.AssignmentId!.Value)
            );

    /// <summary>What has no due day comes last, as PostgreSQL sorts it anyway: named, it would not be read along the index.</summary>
    private static IQueryable<Assignment> DueFirst(IQueryable<Assignment> query) =>
        query.OrderBy(a => a.DueOn).ThenBy(a => a.AssignedAtUtc).ThenBy(a => a.Id);

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
        return await WithdrawAsync([assignment], me, db, clock, ct);
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> CancelAllAsync(
        CancelAssignments asked,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var ids = (asked.AssignmentIds ?? []).Distinct().ToList();
        if (ids.Count is 0 or > AssignmentMaking.AtOnce)
            return Problems.Invalid("assignments", $"Name between one and {AssignmentMaking.AtOnce} assignments in assignmentIds.");
        var assignments = await db.Assignments.VisibleTo(me).Where(a => ids.Contains(a.Id)).ToListAsync(ct);
        if (assignments.Count != ids.Count)
            return Problems.NotFound("assignment");
        return await WithdrawAsync(assignments, me, db, clock, ct);
    }

    private static async Task<NoContent> WithdrawAsync(
        IEnumerable<Assignment> assignments,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var now = clock.GetUtcNow();
        foreach (var assignment in assignments.Where(a => a.CancelledAtUtc is null))
        {
            assignment.CancelledAtUtc = now;
            db.AuditEntries.Add(AuditEntry.By(me, now, "assignment-cancelled", "assignment", assignment.Id));
        }

        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }

    /// <summary>What is due first comes first.</summary>
    public static async Task<List<AssignmentSummary>> SummariesAsync(
        IQueryable<Assignment> query,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var rows = await DueFirst(query.AsNoTracking())
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
        : assignment.Flown ? "flown"
        : assignment.DueOn < today ? "overdue"
        : "open";
}
