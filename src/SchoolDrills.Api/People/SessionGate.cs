using System.Security.Claims;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.People;

/// <summary>
/// Between authentication and everything else: reads session or token, person and roles afresh, so that an ended session, a revoked
/// token, a person who left or a changed role counts at once; then enters the school as what that person may see of it.
/// </summary>
internal sealed class SessionGate(RequestDelegate next)
{
    /// <summary>Marks a request of somebody whose school is suspended.</summary>
    public static readonly object Suspended = new();

    public async Task InvokeAsync(HttpContext http, SchoolScope scope, SchoolDrillsDbContext db, TimeProvider clock)
    {
        scope.From = Origin.Of(http);
        if (http.User.Identity?.IsAuthenticated is true)
        {
            var (holder, sessionId) = await FindAsync(http.User, db, clock.GetUtcNow(), http.RequestAborted);
            if (holder is { Suspended: true })
            {
                if (http.Request.Path.StartsWithSegments("/api"))
                {
                    await Problems.Suspended().ExecuteAsync(http);
                    return;
                }

                // Pages send a stranger to sign in, and that page says why.
                http.Items[Suspended] = true;
                holder = null;
            }

            if (
                holder is { TokenScope: ApiToken.Read }
                && !(HttpMethods.IsGet(http.Request.Method) || HttpMethods.IsHead(http.Request.Method))
            )
            {
                await Problems.Forbidden("This token is for reading only: make one that may write, under My account.").ExecuteAsync(http);
                return;
            }

            if (holder is null)
                http.User = new ClaimsPrincipal(new ClaimsIdentity());
            else
                Admit(http, scope, holder, sessionId);
        }

        await next(http);
    }

    /// <summary>Asked of the lookup functions, since nobody is known yet whose rows could be seen. They note the use as well.</summary>
    private static async Task<(Holder? Holder, Guid SessionId)> FindAsync(
        ClaimsPrincipal user,
        SchoolDrillsDbContext db,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        if (SchoolClaims.ReadToken(user) is { } hash)
        {
            var holders = db.Database.SqlQuery<Holder>(
                $"""
                select school_id as "SchoolId", person_id as "PersonId", display_name as "DisplayName", roles as "Roles",
                  own_students as "OwnStudents", scope as "TokenScope", null as "Ip", null as "UserAgent",
                  null::timestamptz as "PasswordAtUtc", suspended as "Suspended"
                from lookup.token_holder({hash}, {now})
                """
            );
            return ((await holders.ToListAsync(ct)).SingleOrDefault(), Guid.Empty);
        }

        if (SchoolClaims.Read(user) is { } keys)
        {
            var holders = db.Database.SqlQuery<Holder>(
                $"""
                select school_id as "SchoolId", person_id as "PersonId", display_name as "DisplayName", roles as "Roles",
                  own_students as "OwnStudents", null as "TokenScope", ip as "Ip", user_agent as "UserAgent",
                  password_at_utc as "PasswordAtUtc", suspended as "Suspended"
                from lookup.session_holder({keys.SchoolId}, {keys.PersonId}, {keys.SessionId}, {now})
                """
            );
            return ((await holders.ToListAsync(ct)).SingleOrDefault(), keys.SessionId);
        }

        return (null, Guid.Empty);
    }

    private static void Admit(HttpContext http, SchoolScope scope, Holder holder, Guid sessionId)
    {
        var person = new CurrentPerson(holder.PersonId, holder.SchoolId, sessionId, holder.DisplayName, holder.Roles)
        {
            Students = holder.OwnStudents,
            PasswordAtUtc = holder.PasswordAtUtc,
        };
        scope.Enter(person.Viewer);
        if (SchoolClaims.IsThroughPages(http.User))
            scope.From = (holder.Ip, holder.UserAgent);
        var identity = ((ClaimsIdentity)http.User.Identity!).Clone();
        foreach (var role in identity.FindAll(identity.RoleClaimType).ToList())
            identity.RemoveClaim(role);
        identity.AddClaims(person.Roles.Select(role => new Claim(identity.RoleClaimType, role)));
        http.User = new ClaimsPrincipal(identity);
        http.Features.Set(person);
    }

    /// <param name="OwnStudents">The only students this instructor sees; null where that is not the rule.</param>
    /// <param name="TokenScope">Of a program's token; null for a session, which may do whatever its person may.</param>
    private sealed record Holder(
        Guid SchoolId,
        Guid PersonId,
        string DisplayName,
        string[] Roles,
        Guid[]? OwnStudents,
        string? TokenScope,
        string? Ip,
        string? UserAgent,
        DateTimeOffset? PasswordAtUtc,
        bool Suspended
    );
}

/// <summary>Where a request comes from.</summary>
internal static class Origin
{
    public static (string? Ip, string? UserAgent) Of(HttpContext http)
    {
        var agent = http.Request.Headers.UserAgent.ToString();
        // Kept and shown: no more of it than fits, and no control characters.
        var shown = new string([.. Names.Plain(agent).Take(200)]);
        return (http.Connection.RemoteIpAddress?.ToString(), shown.Length == 0 ? null : shown);
    }
}
