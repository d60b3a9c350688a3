using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Progress;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Students;

/// <summary>
/// What a student needs of an instructor, from what lists show of assignments and newest attempts: no report is opened, so that it can be
/// told of every student of a school.
/// </summary>
/// <param name="Attempts">Attempts at the drill flown last, of the newest that are looked at.</param>
internal sealed record StudentNeeds(
    Guid StudentId,
    string Name,
    int Open,
    int Overdue,
    DateOnly? DueOn,
    int ToGrade,
    DateTimeOffset? WaitingSinceUtc,
    DrillStanding Standing,
    string? DrillTitle,
    int Attempts,
    DateTimeOffset? LastFlownAtUtc,
    Guid? LastAttemptId
)
{
    /// <summary>Newest attempts of a student that are looked at, whatever the drill.</summary>
    private const int Newest = 30;

    /// <summary>The most pressing one.</summary>
    public StudentNeed Need =>
        Overdue > 0 ? StudentNeed.Overdue
        : ToGrade > 0 ? StudentNeed.ToGrade
        : Standing.Going switch
        {
            Going.Stuck => StudentNeed.Stuck,
            Going.Ready => StudentNeed.Ready,
            _ => StudentNeed.None,
        };

    /// <summary>Why the student is stuck or ready, with the drill.</summary>
    public string? Reason => Standing.Reason is { } reason ? $"{DrillTitle}: {reason}" : null;

    /// <param name="students">Names of students whose work the person sees.</param>
    public static async Task<IReadOnlyList<StudentNeeds>> OfAsync(
        CurrentPerson me,
        SchoolDrillsDbContext db,
        IReadOnlyDictionary<Guid, string> students,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        Guid[] ids = [.. students.Keys];
        var today = (await db.Schools.AsNoTracking().SingleAsync(ct)).Today(now);
        var toFly = await AssignmentEndpoints
            .ToFly(db.Assignments.AsNoTracking().VisibleTo(me))
            .Where(a => ids.Contains(a.StudentId))
            .GroupBy(a => a.StudentId)
            .Select(g => new
            {
                g.Key,
                Open = g.Count(),
                Overdue = g.Count(a => a.DueOn < today),
                DueOn = g.Min(a => a.DueOn),
            })
            .ToDictionaryAsync(g => g.Key, ct);
        var toGrade = await db
            .Attempts.AsNoTracking()
            .VisibleTo(me)
            .Where(a => ids.Contains(a.StudentId) && a.Status == AttemptStatus.Scored && a.Verdict != null && a.GradedAtUtc == null)
            // Flown again since: only the newest flight for an assignment is graded.
            .Where(a =>
                a.AssignmentId == null || !db.Attempts.Any(b => b.AssignmentId == a.AssignmentId && b.UploadedAtUtc > a.UploadedAtUtc)
            )
            .GroupBy(a => a.StudentId)
            .Select(g => new
            {
                g.Key,
                Count = g.Count(),
                Since = g.Min(a => a.UploadedAtUtc),
            })
            .ToDictionaryAsync(g => g.Key, ct);
        var flown = (await NewestAsync(db, ids, ct)).ToLookup(f => f.StudentId);
        var drills = await DrillsAsync(db, [.. flown.SelectMany(f => f).Select(f => f.DrillVersionId).Distinct()], ct);
        return
        [
            .. ids.Select(id =>
            {
                var (work, waiting) = (toFly.GetValueOrDefault(id), toGrade.GetValueOrDefault(id));
                var last = flown[id].FirstOrDefault();
                var drill = last is null ? null : drills[last.DrillVersionId];
                // Newest first as they come, oldest first as they are judged.
                var alike = flown[id]
                    .Where(f => (drills[f.DrillVersionId].Slug, drills[f.DrillVersionId].Level) == (drill!.Slug, drill.Level));
                List<WholeAttempt> results = [.. alike.Reverse().Select(f => new WholeAttempt(f.WithinShare, f.Outcome))];
                return new StudentNeeds(
                    id,
                    students[id],
                    work?.Open ?? 0,
                    work?.Overdue ?? 0,
                    work?.DueOn,
                    waiting?.Count ?? 0,
                    waiting?.Since,
                    DrillStanding.Of(results, drill?.RequiredShare ?? MeasuredWork.UsualShare),
                    drill?.Title,
                    results.Count,
                    last?.FlownAtUtc,
                    last?.AttemptId
                );
            }),
        ];
    }

    /// <summary>The newest scored attempts of each student, newest first; along an index, whatever was flown before.</summary>
    private static Task<List<Flown>> NewestAsync(SchoolDrillsDbContext db, Guid[] students, CancellationToken ct) =>
        db
            .Database.SqlQuery<Flown>(
                $"""
                select s.id as "StudentId", a.id as "AttemptId", a.drill_version_id as "DrillVersionId", a.flown_at_utc as "FlownAtUtc",
                  a.within_share as "WithinShare", a.verdict as "Verdict"
                from unnest({students}) as s (id) cross join lateral (
                  select * from attempts f
                  where f.student_id = s.id and f.status = 'scored' and f.flown_at_utc is not null and f.within_share is not null
                    and f.verdict is not null
                  order by f.flown_at_utc desc limit {Newest}) a
                order by a.flown_at_utc desc, a.id
                """
            )
            .ToListAsync(ct);

    private static async Task<Dictionary<Guid, Drill>> DrillsAsync(SchoolDrillsDbContext db, List<Guid> versions, CancellationToken ct)
    {
        var shares = await db.Standards.AsNoTracking().ToDictionaryAsync(s => s.Slug, s => s.Standard.RequiredShare, ct);
        var rows = await db.DrillVersions.AsNoTracking().Where(d => versions.Contains(d.Id)).ToListAsync(ct);
        return rows.ToDictionary(
            d => d.Id,
            d => new Drill(
                d.Slug,
                DrillLevel.Of(d.Template).Level,
                d.Template.Title,
                shares.GetValueOrDefault(d.Template.StandardSlug, MeasuredWork.UsualShare)
            )
        );
    }

    private sealed record Drill(string Slug, int Level, string Title, double RequiredShare);

    private sealed record Flown(
        Guid StudentId,
        Guid AttemptId,
        Guid DrillVersionId,
        DateTimeOffset FlownAtUtc,
        double WithinShare,
        string Verdict
    )
    {
        public Verdict Outcome => WordColumn.Parse<Verdict>(Verdict);
    }
}
