using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Attempts;

/// <summary>What there is to lay over an attempt: the same student's others at the same version of the drill, and the example.</summary>
/// <param name="LastId">The last flown before it.</param>
/// <param name="BestId">The best of the others.</param>
/// <param name="HasExample">The school has an example, and this is not it.</param>
internal sealed record ComparableAttempts(Guid? LastId, Guid? BestId, bool HasExample)
{
    public IReadOnlyList<ComparedWith> Offered =>
        [
            .. LastId is null ? (ComparedWith[])[] : [ComparedWith.Last],
            .. BestId is null ? (ComparedWith[])[] : [ComparedWith.Best],
            .. HasExample ? [ComparedWith.Example] : (ComparedWith[])[],
        ];

    /// <summary>The student's own other attempt that is asked for; null for the example, and where there is none.</summary>
    public Guid? IdOf(ComparedWith asked) =>
        asked switch
        {
            ComparedWith.Last => LastId,
            ComparedWith.Best => BestId,
            _ => null,
        };

    /// <param name="attempt">One that the person may see.</param>
    public static async Task<ComparableAttempts> OfAsync(SchoolDrillsDbContext db, Attempt attempt, CurrentPerson me, CancellationToken ct)
    {
        if (attempt is not { Status: AttemptStatus.Scored, LatestReportId: not null, FlownAtUtc: { } flown })
            return new ComparableAttempts(null, null, false);
        var others = db
            .Attempts.VisibleTo(me)
            .Where(o =>
                o.StudentId == attempt.StudentId
                && o.DrillVersionId == attempt.DrillVersionId
                && o.Id != attempt.Id
                && o.Status == AttemptStatus.Scored
                && o.FlownAtUtc != null
                && o.WithinShare != null
                && db.TrackPlots.Any(p => p.ReportId == o.LatestReportId)
            );
        var last = await others
            .Where(o => o.FlownAtUtc < flown)
            .OrderByDescending(o => o.FlownAtUtc)
            .Select(o => (Guid?)o.Id)
            .FirstOrDefaultAsync(ct);
        var best = await others
            .OrderByDescending(o => o.WithinShare)
            .ThenByDescending(o => o.FlownAtUtc)
            .Select(o => (Guid?)o.Id)
            .FirstOrDefaultAsync(ct);
        var hasExample = await db.DrillExamples.AnyAsync(e => e.DrillVersionId == attempt.DrillVersionId && e.AttemptId != attempt.Id, ct);
        return new ComparableAttempts(last, best, hasExample);
    }
}
