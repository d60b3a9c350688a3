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

/// <summary>How it goes with the drill that a student flew last.</summary>
/// <param name="Attempts">Attempts at it, of the newest that are looked at.</param>
internal sealed record DrillGoing(
    DrillStanding Standing,
    string? DrillTitle,
    int Attempts,
    DateTimeOffset? LastFlownAtUtc,
    Guid? LastAttemptId
);

/// <summary>
/// What a student needs of an instructor, from what lists show of assignments and newest attempts: no report is opened, so that it can be
/// told of every student of a school.
/// </summary>
internal sealed record StudentNeeds(
    Guid StudentId,
    string Name,
    int Open,
    int Overdue,
    DateOnly? DueOn,
    int ToGrade,
    DateTimeOffset? WaitingSinceUtc,
    DrillGoing Last
)
{
    /// <summary>Newest attempts of a student that are looked at, whatever the drill.</summary>
    private const int Newest = 30;

    /// <summary>The most pressing one.</summary>
    public StudentNeed Need =>
        Overdue > 0 ? StudentNeed.Overdue
        : ToGrade > 0 ? StudentNeed.ToGrade
        : Last.Standing.Going switch
        {
            Going.Stuck => StudentNeed.Stuck,
            Going.Ready => StudentNeed.Ready,
            _ => StudentNeed.None,
        };

    /// <summary>Why the student is stuck or ready, with the drill.</summary>
    public string? Reason => Last.Standing.Reason is { } reason ? $"{Last.DrillTitle}: {reason}" : null;

    /// <param name="students">Names of students whose work the person sees.</param>
    public static async Task<IReadOnlyList<StudentNeeds>> OfAsync(
        CurrentPerson me,
        SchoolDrillsDbContext db,
        Concluded<DrillGoing> concluded,
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
        var summaries = await db
            .StudentSummaries.AsNoTracking()
            .VisibleTo(me)
            .Where(s => ids.Contains(s.StudentId))
            .ToDictionaryAsync(s => s.StudentId, ct);
        var going = await concluded.OfAsync(
            ids.ToDictionary(id => id, id => summaries.GetValueOrDefault(id)?.State ?? Guid.Empty),
            "",
            changed => GoingAsync(db, changed, ct)
        );
        return
        [
            .. ids.Select(id =>
            {
                var (work, summary) = (toFly.GetValueOrDefault(id), summaries.GetValueOrDefault(id));
                return new StudentNeeds(
                    id,
                    students[id],
                    work?.Open ?? 0,
                    work?.Overdue ?? 0,
                    work?.DueOn,
                    summary?.ToGrade ?? 0,
                    summary?.WaitingSinceUtc,
                    going[id]
                );
            }),
        ];
    }

    /// <summary>From the newest attempts of each of the students.</summary>
    private static async Task<IReadOnlyDictionary<Guid, DrillGoing>> GoingAsync(
        SchoolDrillsDbContext db,
        List<Guid> students,
        CancellationToken ct
    )
    {
        var flown = (await NewestAsync(db, students, ct)).ToLookup(f => f.StudentId);
        var drills = await DrillsAsync(db, [.. flown.SelectMany(f => f).Select(f => f.DrillVersionId).Distinct()], ct);
        return students.ToDictionary(
            id => id,
            id =>
            {
                if (flown[id].FirstOrDefault() is not { } last)
                    return new DrillGoing(DrillStanding.Of([], MeasuredWork.UsualShare), null, 0, null, null);
                var drill = drills[last.DrillVersionId];
                // Newest first as they come, oldest first as they are judged.
                var alike = flown[id]
                    .Where(f => (drills[f.DrillVersionId].Slug, drills[f.DrillVersionId].Level) == (drill.Slug, drill.Level));
                List<WholeAttempt> results = [.. alike.Reverse().Select(f => new WholeAttempt(f.WithinShare, f.Outcome))];
                var standing = DrillStanding.Of(results, drill.RequiredShare);
                return new DrillGoing(standing, drill.Title, results.Count, last.FlownAtUtc, last.AttemptId);
            }
        );
    }

    /// <summary>The newest scored attempts of each student, newest first; along an index, whatever was flown before.</summary>
    private static Task<List<Flown>> NewestAsync(SchoolDrillsDbContext db, List<Guid> students, CancellationToken ct) =>
        db
            .Database.SqlQuery<Flown>(
                $"""
                select s.id as "StudentId", a.id as "AttemptId", a.drill_version_id as "DrillVersionId", a.flown_at_utc as "FlownAtUtc",
                  a.within_share as "WithinShare", a.verdict as "Verdict"
                from unnest({students}) as s (id) cross join lateral (
                  select * from attempts f
                  where f.student_id = s.id and f.flown_at_utc is not null and f.within_share is not null and f.verdict is not null
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
