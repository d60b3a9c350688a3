using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.Notices;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Assignments;

/// <summary>Giving drills to students: an assignment for each student and drill, all of them or none.</summary>
internal static class AssignmentMaking
{
    /// <summary>Assignments made or taken back with one request.</summary>
    public const int AtOnce = 500;

    private const int StudentsAtOnce = 100,
        DrillsAtOnce = 20;

    public static async Task<Results<Created<IReadOnlyList<AssignmentSummary>>, ProblemHttpResult>> CreateAsync(
        CreateAssignment asked,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var studentIds = (asked.StudentIds ?? []).Distinct().ToList();
        if (studentIds.Count is 0 or > StudentsAtOnce)
            return Problems.Invalid("students", "Name between one and a hundred students in studentIds.");
        List<string> slugs = [.. (asked.DrillSlug is { } one ? [one] : Array.Empty<string>()).Concat(asked.DrillSlugs ?? []).Distinct()];
        if (slugs.Count is 0 or > DrillsAtOnce)
            return Problems.Invalid("drills", $"Name a drill in drillSlug, or up to {DrillsAtOnce} in drillSlugs.");
        if (studentIds.Count * slugs.Count > AtOnce)
        {
            return Problems.Invalid(
                "assignments",
                $"That would be {studentIds.Count * slugs.Count} assignments: at most {AtOnce} are made at once, so assign in two goes."
            );
        }

        if (asked.Notes?.Length > 2000)
            return Problems.Invalid("notes", "Notes are at most 2,000 characters.");
        var known = await db.People.CountAsync(p => studentIds.Contains(p.Id) && p.Active && p.Roles.Contains(Roles.Student), ct);
        if (known != studentIds.Count)
            return Problems.Unprocessable("students", "At least one of studentIds is not an active student of this school.");
        var drills = new List<DrillVersion>();
        foreach (var slug in slugs)
        {
            if (await DrillEndpoints.FindAsync(db, me, slug ?? "", null, ct) is not { } drill)
                return Problems.Unprocessable("drill", $"There is no published drill '{slug}'.");
            drills.Add(drill);
        }

        if (await ProblemAsync(asked.Overrides, drills, db, ct) is { } problem)
            return problem;

        // Whoever else gives one of the drills unless it is given waits here until these are written.
        await using var transaction = asked.UnlessOpen ? await db.Database.BeginTransactionAsync(ct) : null;
        var open = new List<(Assignment Assignment, string Slug)>();
        if (asked.UnlessOpen)
        {
            // In one order, so that two who ask for the same drills do not wait for each other.
            foreach (var slug in slugs.Order(StringComparer.Ordinal))
            {
                await db.Database.ExecuteSqlAsync(
                    $"select pg_advisory_xact_lock(hashtextextended({$"assign {me.SchoolId} {slug}"}, 0))",
                    ct
                );
            }

            var rows = await AssignmentEndpoints
                .ToFly(db.Assignments.VisibleTo(me))
                .Where(a => studentIds.Contains(a.StudentId) && slugs.Contains(a.DrillVersion.Slug))
                .Select(a => new { Assignment = a, a.DrillVersion.Slug })
                .ToListAsync(ct);
            open = rows.ConvertAll(r => (r.Assignment, r.Slug));
        }

        var now = clock.GetUtcNow();
        var made = new List<Assignment>();
        foreach (var (order, drill) in drills.Index())
        {
            var given = studentIds
                .FindAll(id => open.TrueForAll(o => o.Assignment.StudentId != id || o.Slug != drill.Slug))
                .ConvertAll(studentId => new Assignment
                {
                    SchoolId = me.SchoolId,
                    StudentId = studentId,
                    DrillVersionId = drill.Id,
                    AssignedById = me.Id,
                    // A moment apart: lists have those of one day in the order they were given.
                    AssignedAtUtc = now.AddMilliseconds(order),
                    DueOn = asked.DueOn,
                    Notes = string.IsNullOrWhiteSpace(asked.Notes) ? null : asked.Notes.Trim(),
                    Overrides = For(drill, asked.Overrides),
                });
            db.AuditEntries.AddRange(given.Select(a => AuditEntry.By(me, now, "drill-assigned", "assignment", a.Id, drill.Slug)));
            db.Notices.AddRange(given.Select(a => Told(a, drill.Template.Title)));
            made.AddRange(given);
        }

        db.Assignments.AddRange(made);
        await db.SaveChangesAsync(ct);
        if (transaction is not null)
            await transaction.CommitAsync(ct);
        // Of several that a student has to fly, the one that is due first.
        var before = open.GroupBy(o => (o.Assignment.StudentId, o.Slug))
            .Select(g => g.Select(o => o.Assignment).OrderBy(a => a.DueOn is null).ThenBy(a => a.DueOn).First().Id)
            .ToHashSet();
        List<Guid> ids = [.. made.Select(a => a.Id), .. before];
        var summaries = await AssignmentEndpoints.SummariesAsync(db.Assignments.Where(a => ids.Contains(a.Id)), me, db, clock, ct);
        return TypedResults.Created<IReadOnlyList<AssignmentSummary>>(
            "/api/v1/assignments",
            summaries.ConvertAll(s => s with { WasOpen = before.Contains(s.Id) })
        );
    }

    /// <summary>What speaks against the entry and the conditions, of several drills with the name of the one.</summary>
    private static async Task<ProblemHttpResult?> ProblemAsync(
        AssignmentOverrides? set,
        List<DrillVersion> drills,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        foreach (var drill in drills)
        {
            if (TemplateProblems.Of(drill.Template, drill.Template.EntryWith(set)) is [var entry, ..])
                return Problems.Unprocessable("overrides", drills.Count > 1 ? $"{drill.Template.Title}: {entry}" : entry);
        }

        if (set is null)
            return null;
        var wind = new AttemptMeta { WindFromDegTrue = set.WindFromDegTrue, WindKt = set.WindKt };
        if (AttemptScoring.Problem(wind) is { } windProblem)
            return Problems.Unprocessable("wind", windProblem);
        if (set.StandardSlug is { } standard && !await db.Standards.AnyAsync(s => s.Slug == standard && s.RetiredAtUtc == null, ct))
            return Problems.Unprocessable("standard", $"The school has no tolerance standard '{standard}', or has retired it.");
        if (set.Aircraft is { } aircraft && !await AircraftEndpoints.IsOfferedAsync(db, aircraft, ct))
            return Problems.Unprocessable("aircraft", $"The school has no aircraft profile '{aircraft}', or has retired it.");
        return null;
    }

    /// <summary>Half rate is set where a drill turns at all: of several given at once, not all may.</summary>
    private static AssignmentOverrides? For(DrillVersion drill, AssignmentOverrides? set) =>
        set is not { HalfRate: true } || DrillEndpoints.Summary(drill).Turns ? set
        : set with { HalfRate = null } is var rest && rest != new AssignmentOverrides() ? rest
        : null;

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
}
