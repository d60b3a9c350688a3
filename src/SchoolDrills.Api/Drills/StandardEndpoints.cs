using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Api.Drills;

/// <summary>
/// Tolerance standards. One never changes, so that what was judged by it stays explainable and a re-scored attempt is judged by the
/// same figures: new figures are its next edition, a standard of its own that drills take up from their next version on.
/// </summary>
internal static class StandardEndpoints
{
    public static void MapStandards(this RouteGroupBuilder api)
    {
        api.MapGet("/standards", ListAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary(
                "Tolerance standards of the school; with offered=true those to choose from, without retired ones and earlier editions"
            );
        api.MapPost("/standards", AddAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Adds a tolerance standard, or with supersedes the next edition of one; it never changes after");
        api.MapGet("/standards/editions", EditionsAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("Tolerance standards with their editions and where each is in use");
        api.MapPost("/standards/{slug}/use", UseAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Publishes drills' next versions with this standard; work given and attempts flown keep the version they had");
        api.MapPost("/standards/{slug}/retire", RetireAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Retires a standard that no published drill uses: it is no longer offered, verdicts by it stay");
        api.MapPost("/standards/{slug}/reinstate", ReinstateAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Takes a retired standard up again");
    }

    private static async Task<Ok<IReadOnlyList<ToleranceStandard>>> ListAsync(
        bool? offered,
        SchoolDrillsDbContext db,
        CancellationToken ct
    ) =>
        TypedResults.Ok<IReadOnlyList<ToleranceStandard>>(
            await db
                .Standards.AsNoTracking()
                // An edition is followed for good once its next one is in use; of a retired next edition it is the newest again.
                .Where(s =>
                    offered != true
                    || s.RetiredAtUtc == null && !db.Standards.Any(next => next.Supersedes == s.Slug && next.RetiredAtUtc == null)
                )
                .OrderBy(s => s.Slug)
                .Select(s => s.Standard)
                .ToListAsync(ct)
        );

    private static async Task<Results<Created<ToleranceStandard>, ProblemHttpResult>> AddAsync(
        ToleranceStandard standard,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (standard.Problems() is [var first, ..] problems)
            return Problems.Unprocessable("standard", first, problems);
        if (await db.Standards.AnyAsync(s => s.Slug == standard.Slug, ct))
            return Exists(standard);
        if (standard.Supersedes is { } earlier)
        {
            if (!await db.Standards.AnyAsync(s => s.Slug == earlier, ct))
                return Problems.Unprocessable("supersedes", $"The school has no tolerance standard {earlier} that this could follow.");
            if (await SuccessorAsync(earlier, db, ct) is { } successor)
                return Superseded(earlier, successor);
        }

        var row = StandardRow.Of(standard, me.SchoolId);
        db.Standards.Add(row);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "standard-added", "standard", row.Id, standard.Slug));
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateException e) when (e.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation })
        {
            // Somebody else was faster by a moment.
            db.ChangeTracker.Clear();
            return standard.Supersedes is { } before && await SuccessorAsync(before, db, ct) is { } successor
                ? Superseded(before, successor)
                : Exists(standard);
        }

        return TypedResults.Created("/api/v1/standards", standard);
    }

    private static Task<string?> SuccessorAsync(string slug, SchoolDrillsDbContext db, CancellationToken ct) =>
        db.Standards.Where(s => s.Supersedes == slug).Select(s => s.Slug).FirstOrDefaultAsync(ct);

    private static ProblemHttpResult Superseded(string earlier, string successor) =>
        Problems.Conflict("superseded", $"{earlier} has a next edition already, {successor}: start from that one.");

    private static ProblemHttpResult Exists(ToleranceStandard standard) =>
        Problems.Conflict(
            "standard-exists",
            $"There is already a standard {standard.Slug}, and standards do not change: give the new one another slug."
        );

    private static async Task<Ok<IReadOnlyList<StandardEdition>>> EditionsAsync(SchoolDrillsDbContext db, CancellationToken ct) =>
        TypedResults.Ok(await StandardUses.EditionsAsync(db, ct));

    private static async Task<Results<Ok<IReadOnlyList<DrillSummary>>, ProblemHttpResult>> UseAsync(
        string slug,
        UseStandard asked,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await db.Standards.FirstOrDefaultAsync(s => s.Slug == slug, ct) is not { } standard)
            return Problems.NotFound("standard");
        if (standard.RetiredAtUtc is not null)
            return Problems.Conflict("standard-retired", $"{slug} is retired: take it up again first, or choose another edition.");
        var slugs = (asked.Drills ?? []).Distinct().ToList();
        if (slugs.Count is 0 or > 500)
            return Problems.Invalid("drills", "Name between one and 500 drills in drills, by their slugs.");
        var published = await db.DrillVersions.Where(d => slugs.Contains(d.Slug) && d.State == DrillState.Published).ToListAsync(ct);
        var newest = published.GroupBy(d => d.Slug).Select(g => g.MaxBy(d => d.Version)!).ToList();
        if (slugs.Find(s => newest.TrueForAll(d => d.Slug != s)) is { } missing)
            return Problems.Unprocessable("drills", $"There is no published drill '{missing}'.");
        var now = clock.GetUtcNow();
        var last = await db
            .DrillVersions.Where(d => slugs.Contains(d.Slug))
            .GroupBy(d => d.Slug)
            .Select(g => new
            {
                g.Key,
                Version = g.Max(d => d.Version),
                Revision = g.Max(d => d.Revision),
            })
            .ToDictionaryAsync(g => g.Key, ct);
        var made = newest
            .Where(d => d.Template.StandardSlug != slug)
            .Select(d => new DrillVersion
            {
                SchoolId = me.SchoolId,
                Slug = d.Slug,
                Version = last[d.Slug].Version + 1,
                State = DrillState.Published,
                Template = d.Template with { Version = last[d.Slug].Version + 1, StandardSlug = slug },
                SavedAtUtc = now,
                SavedById = me.Id,
                Revision = last[d.Slug].Revision,
                BasedOnVersion = d.Version,
            })
            .ToList();
        db.DrillVersions.AddRange(made);
        db.AuditEntries.AddRange(
            made.Select(d => AuditEntry.By(me, now, "drill-published", "drill", d.Id, $"{d.Slug} version {d.Version}, judged by {slug}"))
        );
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateException e) when (e.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation })
        {
            return Problems.Conflict(
                "drill-published",
                "Somebody published one of these drills at the same moment: look again, then retry."
            );
        }

        return TypedResults.Ok<IReadOnlyList<DrillSummary>>([.. made.Select(DrillEndpoints.Summary)]);
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> RetireAsync(
        string slug,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await db.Standards.FirstOrDefaultAsync(s => s.Slug == slug, ct) is not { } standard)
            return Problems.NotFound("standard");
        if ((await StandardUses.DrillsAsync(db, ct))[slug].ToList() is { Count: > 0 } drills)
        {
            return Problems.Conflict(
                "standard-in-use",
                $"{string.Join(", ", drills.Take(3).Select(d => d.Title))}{(drills.Count > 3 ? $" and {drills.Count - 3} more" : "")} "
                    + "are judged by it: give them another standard first."
            );
        }

        standard.RetiredAtUtc ??= clock.GetUtcNow();
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "standard-retired", "standard", standard.Id, slug));
        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> ReinstateAsync(
        string slug,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await db.Standards.FirstOrDefaultAsync(s => s.Slug == slug, ct) is not { } standard)
            return Problems.NotFound("standard");
        standard.RetiredAtUtc = null;
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "standard-reinstated", "standard", standard.Id, slug));
        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }
}
