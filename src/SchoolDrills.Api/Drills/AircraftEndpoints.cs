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

/// <summary>Aircraft profiles of the school, by version: a plan keeps the figures it was made with.</summary>
internal static class AircraftEndpoints
{
    public static void MapAircraft(this RouteGroupBuilder api)
    {
        api.MapGet("/aircraft", ListAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("Aircraft profiles of the school that are offered, each in its newest version");
        api.MapPost("/aircraft", SaveAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Adds an aircraft profile, or the next version of one");
        api.MapGet("/aircraft/versions", VersionsAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("Every version of every aircraft profile, and where each type is in use");
        api.MapPost("/aircraft/{slug}/retire", RetireAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("Retires an aircraft profile: it is no longer offered; saving a next version takes it up again");
    }

    /// <summary>A profile in its newest version, or the one named.</summary>
    public static Task<AircraftProfile?> FindAsync(SchoolDrillsDbContext db, string? slug, int? version, CancellationToken ct) =>
        db
            .Aircraft.AsNoTracking()
            .Where(a => a.Slug == slug && (version == null || a.Version == version))
            .OrderByDescending(a => a.Version)
            .Select(a => a.Profile)
            .FirstOrDefaultAsync(ct);

    /// <summary>Whether a type is offered: its newest version is not retired.</summary>
    public static async Task<bool> IsOfferedAsync(SchoolDrillsDbContext db, string slug, CancellationToken ct) =>
        await db.Aircraft.AsNoTracking().Where(a => a.Slug == slug).OrderByDescending(a => a.Version).FirstOrDefaultAsync(ct)
            is { RetiredAtUtc: null };

    private static async Task<Ok<IReadOnlyList<AircraftProfile>>> ListAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        var rows = await db.Aircraft.AsNoTracking().OrderBy(a => a.Slug).ToListAsync(ct);
        return TypedResults.Ok<IReadOnlyList<AircraftProfile>>([
            .. rows.GroupBy(a => a.Slug).Select(g => g.MaxBy(a => a.Version)!).Where(a => a.RetiredAtUtc is null).Select(a => a.Profile),
        ]);
    }

    private static async Task<Results<Ok<AircraftProfile>, Created<AircraftProfile>, ProblemHttpResult>> SaveAsync(
        AircraftProfile profile,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (AircraftProblems.Of(profile) is [var first, ..] problems)
            return Problems.Unprocessable("aircraft", first.Sentence, [.. problems.Select(p => p.Sentence)]);
        var last = await db.Aircraft.Where(a => a.Slug == profile.Slug).MaxAsync(a => (int?)a.Version, ct) ?? 0;
        var row = new AircraftRow
        {
            SchoolId = me.SchoolId,
            Slug = profile.Slug,
            Version = last + 1,
            Profile = profile,
            SavedAtUtc = clock.GetUtcNow(),
            SavedById = me.Id,
        };
        db.Aircraft.Add(row);
        db.AuditEntries.Add(
            AuditEntry.By(
                me,
                clock.GetUtcNow(),
                last == 0 ? "aircraft-added" : "aircraft-changed",
                "aircraft",
                row.Id,
                $"{profile.Slug} version {row.Version}"
            )
        );
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateException e) when (e.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation })
        {
            return Problems.Conflict("aircraft-changed", $"Somebody saved {profile.Slug} at the same moment: look again, then save.");
        }

        return last == 0 ? TypedResults.Created("/api/v1/aircraft", profile) : TypedResults.Ok(profile);
    }

    private static async Task<Ok<IReadOnlyList<AircraftVersion>>> VersionsAsync(SchoolDrillsDbContext db, CancellationToken ct)
    {
        var rows = await db.Aircraft.AsNoTracking().OrderBy(a => a.Slug).ThenByDescending(a => a.Version).ToListAsync(ct);
        var people = await db.People.Select(p => new { p.Id, p.DisplayName }).ToDictionaryAsync(p => p.Id, p => p.DisplayName, ct);
        var attempts = await db
            .DayTallies.Where(t => t.Dimension == "aircraft" && t.Day == DateOnly.MinValue)
            .ToDictionaryAsync(t => t.Key, t => t.Attempts, ct);
        var open = await db
            .Database.SqlQuery<string>(
                $"""
                select a.overrides ->> 'aircraft' as "Value" from assignments a
                where a.cancelled_at_utc is null and not a.flown and a.overrides ->> 'aircraft' is not null
                """
            )
            .ToListAsync(ct);
        return TypedResults.Ok<IReadOnlyList<AircraftVersion>>([
            .. rows.Select(a => new AircraftVersion(
                a.Profile,
                a.Version,
                a.SavedAtUtc,
                a.SavedById is { } by ? people.GetValueOrDefault(by, "") : "",
                a.RetiredAtUtc,
                open.Count(slug => slug == a.Slug),
                attempts.GetValueOrDefault(a.Slug)
            )),
        ]);
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> RetireAsync(
        string slug,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await db.Aircraft.Where(a => a.Slug == slug).OrderByDescending(a => a.Version).FirstOrDefaultAsync(ct) is not { } row)
            return Problems.NotFound("aircraft profile");
        row.RetiredAtUtc ??= clock.GetUtcNow();
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "aircraft-retired", "aircraft", row.Id, slug));
        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }
}
