using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.Scoring;

/// <summary>A recording taken by a worker, which nobody else takes while it is kept.</summary>
/// <param name="Tries">How often it was taken, this time included.</param>
internal sealed record ScoringClaim(Guid AttemptId, Guid SchoolId, Guid Holder, int Tries);

/// <summary>
/// What waits to be scored. The attempts themselves are the queue: one that is stored and not scored waits, whatever became of its
/// worker. Schools take turns; within a school the oldest comes first (lookup.claim_recording in db/policies/30-lookup.sql).
/// </summary>
internal sealed class ScoringQueue(IServiceScopeFactory scopes)
{
    /// <summary>A killed worker's recording is free after this, and is then the next of its school.</summary>
    public static readonly TimeSpan Lease = TimeSpan.FromSeconds(15);

    /// <summary>Takes the next recording; null where none waits.</summary>
    public Task<ScoringClaim?> ClaimAsync(CancellationToken ct)
    {
        var holder = Guid.NewGuid();
        return AskAsync(async db =>
            (
                await db
                    .Database.SqlQuery<ScoringClaim>(
                        $"""
                        select attempt_id as "AttemptId", school_id as "SchoolId", {holder} as "Holder", tries as "Tries"
                        from lookup.claim_recording({holder}, {Lease})
                        """
                    )
                    .ToListAsync(ct)
            ).SingleOrDefault()
        );
    }

    /// <summary>Keeps it for another lease; false where somebody else has it meanwhile.</summary>
    public Task<bool> KeepAsync(ScoringClaim claim, CancellationToken ct) =>
        AskAsync(db =>
            db.Database.SqlQuery<bool>($"select lookup.keep_claim({claim.AttemptId}, {claim.Holder}, {Lease}) as \"Value\"").SingleAsync(ct)
        );

    /// <summary>Ends it: scored, or with its reason.</summary>
    public Task EndAsync(ScoringClaim claim, CancellationToken ct) =>
        AskAsync(db => db.Database.ExecuteSqlAsync($"select lookup.end_claim({claim.AttemptId}, {claim.Holder})", ct));

    /// <summary>Has it tried again after a pause.</summary>
    public Task PutOffAsync(ScoringClaim claim, TimeSpan pause, CancellationToken ct) =>
        AskAsync(db => db.Database.ExecuteSqlAsync($"select lookup.put_off_claim({claim.AttemptId}, {claim.Holder}, {pause}, true)", ct));

    /// <summary>Gives it back as if it had not been taken: the host is being stopped.</summary>
    public Task GiveBackAsync(ScoringClaim claim, CancellationToken ct) =>
        AskAsync(db =>
            db.Database.ExecuteSqlAsync($"select lookup.put_off_claim({claim.AttemptId}, {claim.Holder}, {TimeSpan.Zero}, false)", ct)
        );

    private async Task<T> AskAsync<T>(Func<SchoolDrillsDbContext, Task<T>> question)
    {
        await using var scope = scopes.CreateAsyncScope();
        scope.ServiceProvider.GetRequiredService<SchoolScope>().Enter(Viewer.Job());
        return await question(scope.ServiceProvider.GetRequiredService<SchoolDrillsDbContext>());
    }
}
