using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>
/// One's own account: password, second factor, sessions, tokens. The chief may see and end those of others, never make them.
/// </summary>
internal static class AccountEndpoints
{
    private const int MostTokens = 20;

    public static void MapAccount(this RouteGroupBuilder api)
    {
        var mine = api.MapGroup("/me").RequireAuthorization(Policies.InPerson);
        mine.MapGet("/account", AccountAsync).WithSummary("One's own second factor, and whether notices come by mail");
        mine.MapPut("/account", SaveAccountAsync).WithSummary("Sets whether unread notices come by mail");
        mine.MapPut("/password", ChangePasswordAsync)
            .RequireRateLimiting(RateLimits.SignIn)
            .WithSummary("Changes one's password; other sessions end");
        mine.MapPost("/second-factor", StartAsync)
            .RequireAuthorization(Policies.Confirmed)
            .WithSummary("A key for an authenticator app; not asked for until a code of it is confirmed");
        mine.MapPost("/second-factor/confirm", ConfirmAsync)
            .RequireAuthorization(Policies.Confirmed)
            .RequireRateLimiting(RateLimits.SignIn)
            .WithSummary("Turns the second factor on by a code of the app; answers with recovery codes, once");
        mine.MapPost("/second-factor/remove", RemoveAsync)
            .RequireAuthorization(Policies.Confirmed)
            .RequireRateLimiting(RateLimits.SignIn)
            .WithSummary("Turns one's second factor off");
        mine.MapPost("/tokens", MakeTokenAsync).RequireAuthorization(Policies.Confirmed).WithSummary("A token for a program; shown once");
        var whose = api.MapGroup("/people/{id:guid}").RequireAuthorization(Policies.InPerson);
        whose.MapGet("/sessions", SessionsAsync).WithSummary("Where a person is signed in: one's own, or anyone's for the chief");
        whose.MapDelete("/sessions/{sessionId:guid}", EndSessionAsync).WithSummary("Ends a session");
        whose.MapGet("/tokens", TokensAsync).WithSummary("A person's tokens for programs: one's own, or anyone's for the chief");
        whose.MapDelete("/tokens/{tokenId:guid}", RevokeAsync).WithSummary("Revokes a token");
    }

    private static async Task<Ok<AccountDetail>> AccountAsync(CurrentPerson me, AccountsDbContext db, MailQueue mail, CancellationToken ct)
    {
        var (person, credentials) = await MineAsync(me, db, ct);
        return TypedResults.Ok(Of(person, credentials, mail));
    }

    private static async Task<Ok<AccountDetail>> SaveAccountAsync(
        SaveAccount sent,
        CurrentPerson me,
        AccountsDbContext db,
        MailQueue mail,
        CancellationToken ct
    )
    {
        var (person, credentials) = await MineAsync(me, db, ct);
        person.NoticeMail = sent.NoticeMail ?? person.NoticeMail;
        await db.SaveChangesAsync(ct);
        return TypedResults.Ok(Of(person, credentials, mail));
    }

    private static AccountDetail Of(Person person, Credentials credentials, MailQueue mail) =>
        new(person.TwoFactorEnabled, credentials.RecoveryCodeHashes.Length)
        {
            NoticeMail = person.NoticeMail,
            SendsMail = mail.IsConfigured,
        };

    private static async Task<Results<NoContent, ProblemHttpResult>> ChangePasswordAsync(
        ChangePassword sent,
        CurrentPerson me,
        AccountsDbContext db,
        Passwords passwords,
        PasswordCheck check,
        SignInService desk,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var (person, credentials) = await MineAsync(me, db, ct);
        if (await check.ProblemAsync(person, credentials, sent.Current, ct) is { } problem)
            return problem;
        if (Passwords.Problem(sent.New) is { } refused)
            return Problems.Unprocessable("password", refused);

        passwords.Choose(person, credentials, sent.New!);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "password-changed", "person", me.Id));
        await db.SaveChangesAsync(ct);
        await desk.EndAllAsync(me.Id, me.SessionId, ct);
        return TypedResults.NoContent();
    }

    private static async Task<Results<Ok<SecondFactorKey>, ProblemHttpResult>> StartAsync(
        CurrentPerson me,
        AccountsDbContext db,
        SecondFactor secondFactor,
        CancellationToken ct
    )
    {
        var (person, credentials) = await MineAsync(me, db, ct);
        if (person.TwoFactorEnabled)
            return Problems.Conflict("second-factor-on", "The second factor is on already: turn it off before you set up another.");
        var key = secondFactor.Begin(credentials);
        var school = await db.Schools.AsNoTracking().Select(s => s.Name).SingleAsync(ct);
        var issuer = Uri.EscapeDataString($"SchoolDrills {school}");
        await db.SaveChangesAsync(ct);
        return TypedResults.Ok(
            new SecondFactorKey(key, $"otpauth://totp/{issuer}:{Uri.EscapeDataString(person.Email!)}?secret={key}&issuer={issuer}")
        );
    }

    private static async Task<Results<Ok<RecoveryCodes>, ProblemHttpResult>> ConfirmAsync(
        SecondFactorCode sent,
        CurrentPerson me,
        AccountsDbContext db,
        SecondFactor secondFactor,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var (person, credentials) = await MineAsync(me, db, ct);
        if (person.TwoFactorEnabled)
            return Problems.Conflict("second-factor-on", "The second factor is on already.");
        if (credentials.AuthenticatorKey is null || !secondFactor.Use(credentials, sent.Code ?? ""))
        {
            return Problems.Unprocessable(
                "code",
                "This is not the code that the app shows now: wait for the next one, and see that the clock of the phone is right."
            );
        }

        person.TwoFactorEnabled = true;
        var codes = SecondFactor.NewRecoveryCodes(credentials);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "second-factor-set", "person", me.Id));
        await db.SaveChangesAsync(ct);
        return TypedResults.Ok(new RecoveryCodes(codes));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> RemoveAsync(
        PasswordAgain sent,
        CurrentPerson me,
        AccountsDbContext db,
        PasswordCheck check,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var (person, credentials) = await MineAsync(me, db, ct);
        if (await check.ProblemAsync(person, credentials, sent.Password, ct) is { } problem)
            return problem;
        SecondFactor.Remove(person, credentials);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "second-factor-removed", "person", me.Id));
        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }

    private static async Task<Results<Created<ApiTokenMade>, ProblemHttpResult>> MakeTokenAsync(
        CreateApiToken asked,
        CurrentPerson me,
        AccountsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (asked.Name is null || string.IsNullOrWhiteSpace(Names.Plain(asked.Name)) || asked.Name.Trim().Length > 100)
            return Problems.Unprocessable("name", "A token needs a name of at most 100 characters, so that you know later what it is for.");
        if (asked.Scope is not (ApiToken.Read or ApiToken.Write))
            return Problems.Unprocessable("scope", $"scope is read or write, not '{asked.Scope}'.");
        if (asked.Days is < 1 or > 366)
            return Problems.Unprocessable("days", "A token works for 1 to 366 days.");
        var now = clock.GetUtcNow();
        if (await db.ApiTokens.CountAsync(t => t.PersonId == me.Id && t.RevokedAtUtc == null && t.ExpiresAtUtc > now, ct) >= MostTokens)
            return Problems.Conflict("too-many-tokens", $"You have {MostTokens} tokens: revoke one that is no longer used.");
        var secret = ApiToken.Prefix + Secrets.New();
        var token = new ApiToken
        {
            SchoolId = me.SchoolId,
            PersonId = me.Id,
            Name = Names.Plain(asked.Name).Trim(),
            Scope = asked.Scope,
            Hash = Secrets.HashOf(secret),
            MadeAtUtc = now,
            ExpiresAtUtc = now.AddDays(asked.Days),
        };
        db.ApiTokens.Add(token);
        db.AuditEntries.Add(AuditEntry.By(me, now, "token-made", "token", token.Id, $"{token.Name}, {token.Scope}"));
        await db.SaveChangesAsync(ct);
        return TypedResults.Created(
            $"/api/v1/people/{me.Id}/tokens",
            new ApiTokenMade(secret, new ApiTokenSummary(token.Id, token.Name, token.Scope, token.MadeAtUtc, token.ExpiresAtUtc, null))
        );
    }

    private static async Task<Results<Ok<IReadOnlyList<SessionSummary>>, ProblemHttpResult>> SessionsAsync(
        Guid id,
        CurrentPerson me,
        AccountsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (!await MayTendAsync(id, me, db, ct))
            return Problems.NotFound("person");
        var now = clock.GetUtcNow();
        return TypedResults.Ok<IReadOnlyList<SessionSummary>>(
            await db
                .Sessions.AsNoTracking()
                .Where(s => s.PersonId == id && s.EndedAtUtc == null && s.ExpiresAtUtc > now)
                .OrderByDescending(s => s.LastSeenAtUtc)
                .Select(s => new SessionSummary(
                    s.Id,
                    s.StartedAtUtc,
                    s.LastSeenAtUtc,
                    s.ExpiresAtUtc,
                    s.Ip,
                    s.UserAgent,
                    s.Id == me.SessionId
                ))
                .ToListAsync(ct)
        );
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> EndSessionAsync(
        Guid id,
        Guid sessionId,
        CurrentPerson me,
        AccountsDbContext db,
        SignInService desk,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (!await MayTendAsync(id, me, db, ct) || !await db.Sessions.AnyAsync(s => s.Id == sessionId && s.PersonId == id, ct))
            return Problems.NotFound("session");
        await desk.EndAsync(sessionId, ct);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "session-ended", "person", id));
        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }

    private static async Task<Results<Ok<IReadOnlyList<ApiTokenSummary>>, ProblemHttpResult>> TokensAsync(
        Guid id,
        CurrentPerson me,
        AccountsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (!await MayTendAsync(id, me, db, ct))
            return Problems.NotFound("person");
        var now = clock.GetUtcNow();
        return TypedResults.Ok<IReadOnlyList<ApiTokenSummary>>(
            await db
                .ApiTokens.AsNoTracking()
                .Where(t => t.PersonId == id && t.RevokedAtUtc == null && t.ExpiresAtUtc > now)
                .OrderBy(t => t.MadeAtUtc)
                .Select(t => new ApiTokenSummary(t.Id, t.Name, t.Scope, t.MadeAtUtc, t.ExpiresAtUtc, t.LastUsedAtUtc))
                .ToListAsync(ct)
        );
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> RevokeAsync(
        Guid id,
        Guid tokenId,
        CurrentPerson me,
        AccountsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (
            !await MayTendAsync(id, me, db, ct)
            || await db.ApiTokens.FirstOrDefaultAsync(t => t.Id == tokenId && t.PersonId == id, ct) is not { } token
        )
        {
            return Problems.NotFound("token");
        }

        token.RevokedAtUtc ??= clock.GetUtcNow();
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "token-revoked", "token", tokenId, token.Name));
        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }

    private static async Task<bool> MayTendAsync(Guid id, CurrentPerson me, AccountsDbContext db, CancellationToken ct) =>
        id == me.Id || (me.IsChief && await db.People.AnyAsync(p => p.Id == id, ct));

    internal static async Task<(Person Person, Credentials Credentials)> MineAsync(
        CurrentPerson me,
        AccountsDbContext db,
        CancellationToken ct
    ) => (await db.People.SingleAsync(p => p.Id == me.Id, ct), await db.Credentials.SingleAsync(c => c.PersonId == me.Id, ct));
}
