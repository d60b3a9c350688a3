using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.People;

/// <summary>Finds whose a program's token is; whether it still counts is the gate's to say.</summary>
internal sealed class ApiTokenHandler(
    IOptionsMonitor<AuthenticationSchemeOptions> options,
    ILoggerFactory logs,
    UrlEncoder encoder,
    SchoolDrillsDbContext db
) : AuthenticationHandler<AuthenticationSchemeOptions>(options, logs, encoder)
{
    public new const string Scheme = "api-token";

    private const string Bearer = "Bearer ";

    public static bool IsMeant(string authorization) =>
        authorization.StartsWith(Bearer + ApiToken.Prefix, StringComparison.OrdinalIgnoreCase);

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        var hash = Secrets.HashOf(Request.Headers.Authorization.ToString()[Bearer.Length..].Trim());
        var found = await db
            .Database.SqlQuery<FoundKey>($"select id as \"Id\", school_id as \"SchoolId\" from lookup.token_by_hash({hash})")
            .SingleOrDefaultAsync(Context.RequestAborted);
        return found is null
            ? AuthenticateResult.Fail("There is no such token.")
            : AuthenticateResult.Success(new AuthenticationTicket(SchoolClaims.OfToken(found.SchoolId, found.Id, Scheme), Scheme));
    }
}

/// <summary>What a lookup function answers with.</summary>
internal sealed record FoundKey(Guid Id, Guid SchoolId);
