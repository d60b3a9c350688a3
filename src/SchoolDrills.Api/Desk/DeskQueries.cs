using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Desk;

/// <summary>The lists of a desk, each cut to so many rows.</summary>
/// <param name="whose">The students whose work it is; everybody's the person sees where it is null.</param>
internal sealed class DeskQueries(SchoolDrillsDbContext db, CurrentPerson me, Guid[]? whose, int rows)
{
    /// <summary>Newest uploads among which the school's newest grades are looked for.</summary>
    private const int NewestUploads = 100;

    public IQueryable<Attempt> Attempts =>
        db.Attempts.AsNoTracking().VisibleTo(me).Where(a => whose == null || whose.Contains(a.StudentId));

    public IQueryable<Assignment> Assignments =>
        db.Assignments.AsNoTracking().VisibleTo(me).Where(a => whose == null || whose.Contains(a.StudentId));

    /// <summary>
    /// The longest waiting of all are among the longest waiting of as many students as there are rows, in the order in which the students
    /// wait: so each of these is read along an index.
    /// </summary>
    public async Task<DeskList> ToGradeAsync(CancellationToken ct)
    {
        var waiting = db
            .StudentSummaries.AsNoTracking()
            .VisibleTo(me)
            .Where(s => s.ToGrade > 0 && (whose == null || whose.Contains(s.StudentId)));
        var students = await waiting
            .OrderBy(s => s.WaitingSinceUtc)
            .ThenBy(s => s.StudentId)
            .Take(rows)
            .Select(s => s.StudentId)
            .ToArrayAsync(ct);
        if (students.Length == 0)
            return new DeskList([], 0);
        var ids = await db
            .Database.SqlQuery<Guid>(
                $"""
                select w.id as "Value" from unnest({students}) as s (id) cross join lateral (
                  select a.id, a.uploaded_at_utc from attempts a
                  where a.student_id = s.id and a.verdict is not null and a.graded_at_utc is null and not exists (
                    select from attempts b where b.assignment_id = a.assignment_id and b.uploaded_at_utc > a.uploaded_at_utc)
                  order by a.uploaded_at_utc limit {rows}) w
                order by w.uploaded_at_utc, w.id limit {rows}
                """
            )
            .ToListAsync(ct);
        return new DeskList(await RowsAsync(ids, ct), await waiting.SumAsync(s => s.ToGrade, ct));
    }

    /// <summary>Attempts by when they were uploaded, the oldest first.</summary>
    public async Task<DeskList> AttemptsAsync(IQueryable<Attempt> attempts, CancellationToken ct)
    {
        var ids = await attempts.OrderBy(a => a.UploadedAtUtc).ThenBy(a => a.Id).Take(rows).Select(a => a.Id).ToListAsync(ct);
        return new DeskList(await RowsAsync(ids, ct), ids.Count < rows ? ids.Count : await attempts.CountAsync(ct));
    }

    /// <summary>Assignments by when they are due, each with how the drill went last.</summary>
    public async Task<DeskList> ToFlyAsync(IQueryable<Assignment> assignments, TimeProvider clock, CancellationToken ct)
    {
        var cut = assignments.OrderBy(a => a.DueOn).ThenBy(a => a.Id).Take(rows);
        var shown = await AssignmentEndpoints.SummariesAsync(cut, me, db, clock, ct);
        var last = await LastAttempts.OfAsync(db, me, shown.Select(a => (a.StudentId, a.DrillSlug)), ct);
        return new DeskList(
            shown.ConvertAll(a => new DeskRow(null, a, a.AssignedBy, last.GetValueOrDefault((a.StudentId, a.DrillSlug)))),
            shown.Count < rows ? shown.Count : await assignments.CountAsync(ct)
        );
    }

    /// <summary>Newest first: whatever the person graded, or where everybody's is shown, whoever did.</summary>
    public async Task<IReadOnlyList<AttemptSummary>> GradedAsync(int most, CancellationToken ct)
    {
        var ids = whose is null
            ? await Attempts
                .OrderByDescending(a => a.UploadedAtUtc)
                .Take(NewestUploads)
                .Where(a => a.GradedAtUtc != null)
                .OrderByDescending(a => a.GradedAtUtc)
                .Take(most)
                .Select(a => a.Id)
                .ToListAsync(ct)
            : await db
                .Grades.Where(g => g.InstructorId == me.Id && g.SignedAtUtc != null)
                .OrderByDescending(g => g.SignedAtUtc)
                // An amended grade is of the same attempt.
                .Take(2 * most)
                .Select(g => g.AttemptId)
                .ToListAsync(ct);
        ids = [.. ids.Distinct().Take(most)];
        var known = await AttemptSummaries.ByIdAsync(db, ids, withDrafts: true, ct);
        return [.. ids.Where(known.ContainsKey).Select(id => known[id])];
    }

    private async Task<IReadOnlyList<DeskRow>> RowsAsync(List<Guid> ids, CancellationToken ct)
    {
        var known = await AttemptSummaries.ByIdAsync(db, ids, withDrafts: true, ct);
        var assignments = known.Values.Select(a => a.AssignmentId).OfType<Guid>().ToList();
        var assignedBy = await db
            .Assignments.Where(a => assignments.Contains(a.Id))
            .Select(a => new { a.Id, a.AssignedBy.DisplayName })
            .ToDictionaryAsync(a => a.Id, a => a.DisplayName, ct);
        return
        [
            .. ids.Where(known.ContainsKey)
                .Select(id => known[id])
                .Select(a => new DeskRow(a, null, a.AssignmentId is { } given ? assignedBy.GetValueOrDefault(given) : null, null)),
        ];
    }
}
