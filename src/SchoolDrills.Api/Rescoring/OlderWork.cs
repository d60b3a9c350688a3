using Microsoft.EntityFrameworkCore;
using Npgsql;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Rescoring;

/// <summary>What older engines scored, and putting it to be scored anew.</summary>
internal static class OlderWork
{
    /// <summary>
    /// By engine, the newest first. Only older ones: while hosts of two versions run side by side, the older one must not undo what the
    /// newer did. What this engine scored would read the same once more.
    /// </summary>
    public static async Task<List<OlderScores>> ByEngineAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        // Before and after this one in the order of an index: where all are of this version, there is nothing to walk through.
        var versions = await db
            .Database.SqlQuery<string>(
                $"""
                select distinct scored_with as "Value" from attempts
                where scored_with < {AttemptScorer.EngineVersion} or scored_with > {AttemptScorer.EngineVersion}
                """
            )
            .ToListAsync(ct);
        var older = versions.FindAll(v => IsOlder(v, AttemptScorer.EngineVersion));
        if (older.Count == 0)
            return [];
        var counted = await Scored(db)
            .Where(a => older.Contains(a.ScoredWith!))
            .GroupBy(a => a.ScoredWith!)
            .Select(g => new { Version = g.Key, Count = g.Count() })
            .ToListAsync(ct);
        return [.. counted.OrderByDescending(c => Version.Parse(c.Version)).Select(c => new OlderScores(c.Version, c.Count))];
    }

    public static bool IsOlder(string engineVersion, string than) =>
        Version.TryParse(engineVersion, out var version) && version < Version.Parse(than);

    public static async Task<Guid[]> ChosenAsync(SchoolDrillsDbContext db, RescoringChoice choice, CancellationToken ct) =>
        await (await QueryAsync(db, choice, ct)).OrderByDescending(a => a.UploadedAtUtc).Select(a => a.Id).ToArrayAsync(ct);

    public static async Task<int> CountAsync(SchoolDrillsDbContext db, RescoringChoice choice, CancellationToken ct) =>
        await (await QueryAsync(db, choice, ct)).CountAsync(ct);

    /// <summary>Starts a rescoring of attempts, with its audit entry, in one transaction.</summary>
    /// <returns>False where one runs already: nothing is then saved.</returns>
    public static async Task<bool> StartAsync(
        SchoolDrillsDbContext db,
        RescoringRow run,
        Guid[] attemptIds,
        AuditEntry entry,
        CancellationToken ct
    )
    {
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        db.Add(run);
        db.AuditEntries.Add(entry);
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateException e) when (e.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation })
        {
            db.ChangeTracker.Clear();
            return false;
        }

        await db.Database.ExecuteSqlAsync(
            $"""
            insert into rescoring_items (rescoring_id, attempt_id, school_id, number, outcome)
            select {run.Id}, chosen.id, {run.SchoolId}, chosen.number, 'waiting'
            from unnest({attemptIds}) with ordinality as chosen (id, number)
            """,
            ct
        );
        await transaction.CommitAsync(ct);
        return true;
    }

    /// <summary>Ends a rescoring with its audit entry; false where it had ended.</summary>
    public static async Task<bool> EndAsync(
        SchoolDrillsDbContext db,
        Guid rescoringId,
        Guid? stoppedById,
        AuditEntry entry,
        CancellationToken ct
    )
    {
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        var ended = await db
            .Rescorings.Where(r => r.Id == rescoringId && r.EndedAtUtc == null)
            .ExecuteUpdateAsync(r => r.SetProperty(x => x.EndedAtUtc, entry.AtUtc).SetProperty(x => x.StoppedById, stoppedById), ct);
        if (ended == 0)
            return false;
        db.AuditEntries.Add(entry);
        await db.SaveChangesAsync(ct);
        await transaction.CommitAsync(ct);
        return true;
    }

    private static async Task<IQueryable<Attempt>> QueryAsync(SchoolDrillsDbContext db, RescoringChoice choice, CancellationToken ct)
    {
        var older = (await ByEngineAsync(db, ct)).ConvertAll(o => o.EngineVersion);
        if (choice.EngineVersion is { } one)
            older.RemoveAll(v => v != one);
        var school = await db.Schools.AsNoTracking().SingleAsync(ct);
        DateTimeOffset? from = choice.FlownFrom is { } first ? school.StartOf(first) : null;
        DateTimeOffset? to = choice.FlownTo is { } last ? school.StartOf(last.AddDays(1)) : null;
        return Scored(db)
            .Where(a => older.Contains(a.ScoredWith!))
            .Where(a => choice.DrillSlug == null || a.DrillVersion.Slug == choice.DrillSlug)
            .Where(a => choice.StudentId == null || a.StudentId == choice.StudentId)
            .Where(a => from == null || a.PlacedAtUtc >= from)
            .Where(a => to == null || a.PlacedAtUtc < to);
    }

    /// <summary>Of who was erased the score stays, and the recording is gone.</summary>
    private static IQueryable<Attempt> Scored(SchoolDrillsDbContext db) =>
        db.Attempts.Where(a =>
            (a.Status == AttemptStatus.Scored || a.Status == AttemptStatus.Unscorable) && db.TrackFiles.Any(f => f.AttemptId == a.Id)
        );
}
