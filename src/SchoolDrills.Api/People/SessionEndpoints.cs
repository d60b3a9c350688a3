using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>Signing in and out, of the API by token and of the pages by cookie.</summary>
internal static class SessionEndpoints
{
    public static void MapSession(this RouteGroupBuilder api)
    {
        api.MapPost("/session", SignInAsync).AllowAnonymous().RequireRateLimiting(RateLimits.SignIn).WithSummary("Sign in");
        api.MapPost("/session/refresh", RefreshAsync).AllowAnonymous().RequireRateLimiting(RateLimits.SignIn).WithSummary("Renew a session");
        api.MapDelete("/session", SignOutAsync).RequireAuthorization(Policies.SignedIn).WithSummary("Sign out; the session's tokens end at once");
        api.MapGet("/me", MeAsync).RequireAuthorization(Policies.SignedIn).WithSummary("The signed-in person and the school");
    }

    /// <summary>The two forms that pages post; their antiforgery token is checked by the framework.</summary>
    public static void MapSignInForms(this IEndpointRouteBuilder app)
    {
        app.MapPost("/sign-in", SignInPageAsync).AllowAnonymous().RequireRateLimiting(RateLimits.SignIn).ExcludeFromDescription();
        app.MapPost("/sign-out", SignOutPageAsync).AllowAnonymous().ExcludeFromDescription();
    }

    private static async Task<Results<Ok<SessionTokens>, ProblemHttpResult>> SignInAsync(SignIn signIn, SignInDesk desk, Tokens tokens, CancellationToken ct)
    {
        if (string.IsNullOrWhiteSpace(signIn.Email) || string.IsNullOrEmpty(signIn.Password)) return Problems.Invalid("sign-in-incomplete", "Give both email and password.");
        var (outcome, person, session) = await desk.SignInAsync(signIn.Email, signIn.Password, ct);
        return outcome switch
        {
            SignInOutcome.Welcome => TypedResults.Ok(TokensFor(tokens, person!, session!)),
            SignInOutcome.LockedOut => Problems.TooMany("Too many wrong passwords for this address: wait ten minutes, or ask the chief instructor for a new link."),
            _ => Problems.Unauthorized("Email and password do not belong together."),
        };
    }

    private static async Task<Results<Ok<SessionTokens>, ProblemHttpResult>> RefreshAsync(RefreshSession refresh, SignInDesk desk, Tokens tokens, CancellationToken ct)
    {
        if (tokens.ReadRefresh(refresh.RefreshToken ?? "") is not { } principal || SchoolClaims.Read(principal) is not { } keys
            || await desk.RenewAsync(keys.SchoolId, keys.SessionId, keys.Generation, ct) is not { } renewed)
        {
            return Problems.Unauthorized("This session has ended: sign in again.");
        }

        return TypedResults.Ok(TokensFor(tokens, renewed.Person, renewed.Session));
    }

    private static async Task<NoContent> SignOutAsync(CurrentPerson me, SignInDesk desk, CancellationToken ct)
    {
        await desk.EndAsync(me.SessionId, ct);
        return TypedResults.NoContent();
    }

    private static async Task<Ok<Me>> MeAsync(CurrentPerson me, SchoolDrillsDbContext db, CancellationToken ct)
    {
        var school = await db.Schools.SingleAsync(ct);
        var email = await db.People.Where(p => p.Id == me.Id).Select(p => p.Email).SingleAsync(ct);
        return TypedResults.Ok(new Me(me.Id, me.DisplayName, email!, me.Roles, new SchoolSummary(school.Id, school.Name, school.TimeZone, school.GradeScale) { Grading = school.Grading }));
    }

    private static async Task<RedirectHttpResult> SignInPageAsync(
        HttpContext http, SignInDesk desk, [FromForm] string? email, [FromForm] string? password, [FromForm] string? returnUrl, CancellationToken ct)
    {
        var home = IsOurs(returnUrl) ? returnUrl! : "/";
        var (outcome, person, session) = await desk.SignInAsync(email ?? "", password ?? "", ct);
        if (outcome != SignInOutcome.Welcome)
        {
            return TypedResults.LocalRedirect($"/sign-in?failed={(outcome == SignInOutcome.LockedOut ? "locked" : "1")}&returnUrl={Uri.EscapeDataString(home)}");
        }

        await http.SignInAsync(
            IdentityConstants.ApplicationScheme,
            SchoolClaims.Of(person!, session!, IdentityConstants.ApplicationScheme),
            new AuthenticationProperties { IsPersistent = true });
        return TypedResults.LocalRedirect(home);
    }

    private static async Task<RedirectHttpResult> SignOutPageAsync(HttpContext http, SignInDesk desk, [FromForm] string? returnUrl, CancellationToken ct)
    {
        if (http.Features.Get<CurrentPerson>() is { } me) await desk.EndAsync(me.SessionId, ct);
        await http.SignOutAsync(IdentityConstants.ApplicationScheme);
        return TypedResults.LocalRedirect(IsOurs(returnUrl) ? returnUrl! : "/sign-in");
    }

    private static SessionTokens TokensFor(Tokens tokens, Person person, Session session)
    {
        var principal = SchoolClaims.Of(person, session, IdentityConstants.BearerScheme);
        var (access, expires) = tokens.Access(principal, Tokens.AccessLife);
        return new SessionTokens(access, expires, tokens.Refresh(principal, session.ExpiresAtUtc));
    }

    /// <summary>A path of this site, not an address elsewhere in disguise.</summary>
    private static bool IsOurs(string? url) => url is ['/', ..] && !url.StartsWith("//", StringComparison.Ordinal) && !url.StartsWith("/\\", StringComparison.Ordinal);
}
