using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Schools;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Progress;

/// <summary>What waits for somebody: how much, since when, and the oldest few.</summary>
internal static class AgeingQueries
{
    private const int Oldest = 5;

    /// <summary>What cannot be scored is looked at soon or never.</summary>
    private static readonly TimeSpan UnscorableAge = TimeSpan.FromDays(90);

    public static async Task<IReadOnlyList<AgeingWork>> AllAsync(
        SchoolDrillsDbContext db,
        School school,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var today = school.Today(now);
        var since = now - UnscorableAge;
        var attempts = db.Attempts.AsNoTracking();
        return
        [
            await OfAsync(
                "unscored",
                attempts
                    .Where(a => a.Status == AttemptStatus.Queued || a.Status == AttemptStatus.Scoring)
                    .Select(a => new Waiting { Id = a.Id, Since = a.UploadedAtUtc })
            ),
            await OfAsync(
                "unscorable",
                attempts
                    .Where(a => a.Status == AttemptStatus.Unscorable && a.UploadedAtUtc >= since)
                    .Select(a => new Waiting { Id = a.Id, Since = a.UploadedAtUtc })
            ),
            await OfAsync(
                "ungraded",
                attempts
                    .Where(a => a.Verdict != null && a.GradedAtUtc == null)
                    .Select(a => new Waiting { Id = a.Id, Since = a.FlownAtUtc!.Value }),
                UngradedAsync
            ),
            await OverdueAsync(db, today, ct),
            await OfAsync(
                "unacknowledged",
                attempts.Where(a => a.UnreadSinceUtc != null).Select(a => new Waiting { Id = a.Id, Since = a.UnreadSinceUtc!.Value })
            ),
        ];

        // Kept by instructor, since it can be much.
        Task<int> UngradedAsync() =>
            db.DayTallies.Where(t => t.Dimension == "waiting" && t.Day == DateOnly.MinValue).SumAsync(t => t.Attempts, ct);

        async Task<AgeingWork> OfAsync(string what, IQueryable<Waiting> waiting, Func<Task<int>>? countAsync = null)
        {
            var oldest = await waiting.OrderBy(w => w.Since).ThenBy(w => w.Id).Take(Oldest).ToListAsync(ct);
            return new(
                what,
                oldest.Count < Oldest ? oldest.Count
                    : countAsync is null ? await waiting.CountAsync(ct)
                    : await countAsync(),
                oldest is [var first, ..] ? school.DayOf(first.Since) : null,
                oldest.ConvertAll(w => w.Id)
            );
        }
    }

    private static async Task<AgeingWork> OverdueAsync(SchoolDrillsDbContext db, DateOnly today, CancellationToken ct)
    {
        var overdue = AssignmentEndpoints.ToFly(db.Assignments.AsNoTracking()).Where(a => a.DueOn < today);
        var oldest = await overdue.OrderBy(a => a.DueOn).ThenBy(a => a.Id).Take(Oldest).Select(a => new { a.Id, a.DueOn }).ToListAsync(ct);
        return new(
            "overdue",
            oldest.Count < Oldest ? oldest.Count : await overdue.CountAsync(ct),
            oldest is [var first, ..] ? first.DueOn : null,
            oldest.ConvertAll(a => a.Id)
        );
    }

    private sealed class Waiting
    {
        public Guid Id { get; init; }

        public DateTimeOffset Since { get; init; }
    }
}
