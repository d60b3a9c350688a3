using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.BearerToken;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;

namespace SchoolDrills.Api.People;

/// <summary>Makes and reads the API's tokens: encrypted tickets under the host's data protection keys.</summary>
internal sealed class Tokens(IOptionsMonitor<BearerTokenOptions> options, TimeProvider clock)
{
    public static readonly TimeSpan AccessLife = TimeSpan.FromMinutes(30);

    private BearerTokenOptions Bearer => options.Get(IdentityConstants.BearerScheme);

    public (string Token, DateTimeOffset ExpiresAtUtc) Access(ClaimsPrincipal person, TimeSpan life)
    {
        var expires = clock.GetUtcNow() + life;
        return (Bearer.BearerTokenProtector.Protect(Ticket(person, expires, "AccessToken")), expires);
    }

    public string Refresh(ClaimsPrincipal person, DateTimeOffset expires) =>
        Bearer.RefreshTokenProtector.Protect(Ticket(person, expires, "RefreshToken"));

    public ClaimsPrincipal? ReadRefresh(string token)
    {
        var ticket = Bearer.RefreshTokenProtector.Unprotect(token);
        return ticket?.Properties.ExpiresUtc > clock.GetUtcNow() ? ticket.Principal : null;
    }

    private static AuthenticationTicket Ticket(ClaimsPrincipal person, DateTimeOffset expires, string kind) =>
        new(person, new AuthenticationProperties { ExpiresUtc = expires }, $"{IdentityConstants.BearerScheme}:{kind}");
}
