using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Progress;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Api.Students;

/// <summary>What takes a student's whole history, for the few students of a page.</summary>
internal static class StudentDetails
{
    public static async Task<IReadOnlyList<StudentStanding>> OfAsync(
        CurrentPerson me,
        SchoolDrillsDbContext db,
        IReadOnlyList<StudentNeeds> students,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var newest = await AttemptSummaries.ByIdAsync(
            db,
            [.. students.Select(s => s.Last.LastAttemptId).OfType<Guid>()],
            withDrafts: true,
            ct
        );
        var published = await MeasuredWork.CandidatesAsync(db, ct);
        var ids = students.Select(s => s.StudentId).ToList();
        var toFly = (
            await AssignmentEndpoints
                .ToFly(db.Assignments.AsNoTracking().VisibleTo(me))
                .Where(a => ids.Contains(a.StudentId))
                .Select(a => new ToFly(a.StudentId, a.Id, a.DrillVersion.Slug, a.DueOn))
                .ToListAsync(ct)
        ).ToLookup(a => a.StudentId);
        var weak = await MeasuredWork.WeakSegmentsAsync(db, me, ids, now, ct);
        return
        [
            .. students.Select(s => new StudentStanding(
                s.StudentId,
                s.Name,
                s.Need,
                s.Open,
                s.Overdue,
                s.DueOn,
                s.ToGrade,
                s.WaitingSinceUtc,
                s.Reason,
                s.Last.LastFlownAtUtc,
                s.Last.LastAttemptId is { } last ? newest.GetValueOrDefault(last) : null,
                Weakest(weak[s.StudentId]),
                Next(weak[s.StudentId], published, [.. toFly[s.StudentId]])
            )),
        ];
    }

    private static WeakSpot? Weakest(IReadOnlyList<WeakSegment> segments) =>
        segments is [{ Recurring: true, ExampleAttemptId: { } attempt, ExampleSegmentIndex: { } index } weak, ..]
            ? new(weak.Group.Kind, weak.Group.Parameter, weak.NotMetShare, weak.Attempts, new SegmentExample(attempt, index))
            : null;

    private static NextStep? Next(
        IReadOnlyList<WeakSegment> segments,
        IReadOnlyDictionary<string, DrillCandidate> drills,
        List<ToFly> toFly
    )
    {
        if (NextDrill.Of(segments, drills.Values) is not [var next, ..])
            return null;
        var given = toFly.Where(a => a.DrillSlug == next.DrillSlug).OrderBy(a => a.DueOn is null).ThenBy(a => a.DueOn).FirstOrDefault();
        return new(MeasuredWork.Suggestion(next, drills), given?.Id, given?.DueOn);
    }

    private sealed record ToFly(Guid StudentId, Guid Id, string DrillSlug, DateOnly? DueOn);
}
