using System.Security.Claims;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.People;

/// <summary>
/// Between authentication and everything else: enters the school, then reads session or token, person and roles afresh, so that an
/// ended session, a revoked token, a person who left or a changed role counts at once; then narrows to what that person sees.
/// </summary>
internal sealed class SessionGate(RequestDelegate next)
{
    /// <summary>How exactly the last use of a session or token is known; more would be a write for each request.</summary>
    private static readonly TimeSpan SeenEvery = TimeSpan.FromMinutes(5);

    public async Task InvokeAsync(HttpContext http, SchoolScope scope, SchoolDrillsDbContext db, TimeProvider clock)
    {
        scope.From = Origin.Of(http);
        if (http.User.Identity?.IsAuthenticated is true)
        {
            var found =
                SchoolClaims.ReadToken(http.User) is { } token
                    ? await ByTokenAsync(token.SchoolId, token.TokenId, scope, db, clock.GetUtcNow(), http.RequestAborted)
                : SchoolClaims.Read(http.User) is { } keys
                    ? await BySessionAsync(keys.PersonId, keys.SchoolId, keys.SessionId, http, scope, db, clock.GetUtcNow())
                : null;
            if (found is { Scope: ApiToken.Read } && !(HttpMethods.IsGet(http.Request.Method) || HttpMethods.IsHead(http.Request.Method)))
            {
                await Problems.Forbidden("This token is for reading only: make one that may write, under My account.").ExecuteAsync(http);
                return;
            }

            await AdmitAsync(http, scope, db, found);
        }

        await next(http);
    }

    private static async Task<Found?> BySessionAsync(
        Guid personId,
        Guid schoolId,
        Guid sessionId,
        HttpContext http,
        SchoolScope scope,
        SchoolDrillsDbContext db,
        DateTimeOffset now
    )
    {
        scope.Enter(Viewer.SigningIn(schoolId));
        var row = await db
            .Sessions.Where(s => s.Id == sessionId && s.PersonId == personId && s.EndedAtUtc == null && s.ExpiresAtUtc > now)
            .Join(
                db.People.Where(p => p.Active),
                s => s.PersonId,
                p => p.Id,
                (s, p) =>
                    new
                    {
                        p.DisplayName,
                        p.Roles,
                        s.LastSeenAtUtc,
                        s.Ip,
                        s.UserAgent,
                    }
            )
            .FirstOrDefaultAsync(http.RequestAborted);
        if (row is null)
            return null;
        if (SchoolClaims.IsThroughPages(http.User))
            scope.From = (row.Ip, row.UserAgent);
        if (now - row.LastSeenAtUtc > SeenEvery)
            await db
                .Sessions.Where(s => s.Id == sessionId)
                .ExecuteUpdateAsync(s => s.SetProperty(x => x.LastSeenAtUtc, now), http.RequestAborted);
        return new Found(new CurrentPerson(personId, schoolId, sessionId, row.DisplayName, row.Roles), ApiToken.Write);
    }

    private static async Task<Found?> ByTokenAsync(
        Guid schoolId,
        Guid tokenId,
        SchoolScope scope,
        SchoolDrillsDbContext db,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        scope.Enter(Viewer.SigningIn(schoolId));
        var row = await db
            .ApiTokens.Where(t => t.Id == tokenId && t.RevokedAtUtc == null && t.ExpiresAtUtc > now)
            .Join(
                db.People.Where(p => p.Active),
                t => t.PersonId,
                p => p.Id,
                (t, p) =>
                    new
                    {
                        p.Id,
                        p.DisplayName,
                        p.Roles,
                        t.Scope,
                        t.LastUsedAtUtc,
                    }
            )
            .FirstOrDefaultAsync(ct);
        if (row is null)
            return null;
        if (row.LastUsedAtUtc is null || now - row.LastUsedAtUtc > SeenEvery)
            await db.ApiTokens.Where(t => t.Id == tokenId).ExecuteUpdateAsync(t => t.SetProperty(x => x.LastUsedAtUtc, now), ct);
        return new Found(new CurrentPerson(row.Id, schoolId, Guid.Empty, row.DisplayName, row.Roles), row.Scope);
    }

    private static async Task AdmitAsync(HttpContext http, SchoolScope scope, SchoolDrillsDbContext db, Found? found)
    {
        if (found is null)
        {
            http.User = new ClaimsPrincipal(new ClaimsIdentity());
            return;
        }

        var person = found.Person;
        if (
            person is { IsStaff: true, IsChief: false }
            && await db.Schools.AnyAsync(s => s.InstructorsSeeOwnStudentsOnly, http.RequestAborted)
        )
        {
            person = person with { Students = [] };
            scope.Enter(person.Viewer);
            person = person with { Students = await OwnStudentsAsync(db, http.RequestAborted) };
        }

        scope.Enter(person.Viewer);
        var identity = ((ClaimsIdentity)http.User.Identity!).Clone();
        foreach (var role in identity.FindAll(identity.RoleClaimType).ToList())
            identity.RemoveClaim(role);
        identity.AddClaims(person.Roles.Select(role => new Claim(identity.RoleClaimType, role)));
        http.User = new ClaimsPrincipal(identity);
        http.Features.Set(person);
    }

    private static Task<List<Guid>> OwnStudentsAsync(SchoolDrillsDbContext db, CancellationToken ct) =>
        db.Database.SqlQuery<Guid>($"select own_students as \"Value\" from lookup.own_students()").ToListAsync(ct);

    private sealed record Found(CurrentPerson Person, string Scope);
}

/// <summary>Where a request comes from.</summary>
internal static class Origin
{
    public static (string? Ip, string? UserAgent) Of(HttpContext http)
    {
        var agent = http.Request.Headers.UserAgent.ToString();
        // Kept and shown: no more of it than fits, and no control characters.
        var shown = new string([.. agent.Where(c => !char.IsControl(c)).Take(200)]);
        return (http.Connection.RemoteIpAddress?.ToString(), shown.Length == 0 ? null : shown);
    }
}
