using System.Security.Claims;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.People;

/// <summary>
/// Between authentication and everything else: takes the request behind its school's wall and reads session, person and roles
/// afresh, so that an ended session, a person who left or a changed role counts at once.
/// </summary>
internal sealed class SessionGate(RequestDelegate next)
{
    public async Task InvokeAsync(HttpContext http, SchoolScope scope, SchoolDrillsDbContext db, TimeProvider clock)
    {
        if (http.User.Identity?.IsAuthenticated is true) await AdmitAsync(http, scope, db, clock);
        await next(http);
    }

    private static async Task AdmitAsync(HttpContext http, SchoolScope scope, SchoolDrillsDbContext db, TimeProvider clock)
    {
        var nobody = new ClaimsPrincipal(new ClaimsIdentity());
        if (SchoolClaims.Read(http.User) is not { } keys)
        {
            http.User = nobody;
            return;
        }

        scope.Enter(keys.SchoolId, keys.PersonId);
        var now = clock.GetUtcNow();
        var person = await db.Sessions
            .Where(s => s.Id == keys.SessionId && s.PersonId == keys.PersonId && s.EndedAtUtc == null && s.ExpiresAtUtc > now)
            .Join(db.People.Where(p => p.Active), s => s.PersonId, p => p.Id, (s, p) => new { p.DisplayName, p.Roles })
            .FirstOrDefaultAsync(http.RequestAborted);
        if (person is null)
        {
            http.User = nobody;
            return;
        }

        var identity = ((ClaimsIdentity)http.User.Identity!).Clone();
        foreach (var role in identity.FindAll(identity.RoleClaimType).ToList()) identity.RemoveClaim(role);
        identity.AddClaims(person.Roles.Select(role => new Claim(identity.RoleClaimType, role)));
        http.User = new ClaimsPrincipal(identity);
        http.Features.Set(new CurrentPerson(keys.PersonId, keys.SchoolId, keys.SessionId, person.DisplayName, person.Roles));
    }
}
