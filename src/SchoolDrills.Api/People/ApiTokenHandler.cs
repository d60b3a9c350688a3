using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;

namespace SchoolDrills.Api.People;

/// <summary>Takes a program's token as it comes; whose it is, and whether it still counts, is the gate's to say.</summary>
internal sealed class ApiTokenHandler(IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logs, UrlEncoder encoder)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logs, encoder)
{
    public new const string Scheme = "api-token";

    private const string Bearer = "Bearer ";

    public static bool IsMeant(string authorization) =>
        authorization.StartsWith(Bearer + ApiToken.Prefix, StringComparison.OrdinalIgnoreCase);

    protected override Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        var hash = Secrets.HashOf(Request.Headers.Authorization.ToString()[Bearer.Length..].Trim());
        return Task.FromResult(AuthenticateResult.Success(new AuthenticationTicket(SchoolClaims.OfToken(hash, Scheme), Scheme)));
    }
}

/// <summary>What a lookup function answers with.</summary>
internal sealed record FoundKey(Guid Id, Guid SchoolId);
