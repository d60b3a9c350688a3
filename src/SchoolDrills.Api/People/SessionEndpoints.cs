using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>
/// Signing in to the API and out of it, and from one school over to another. The pages' forms are in <see cref="SignInForms"/>.
/// </summary>
internal static class SessionEndpoints
{
    public static void MapSession(this RouteGroupBuilder api)
    {
        api.MapPost("/session", SignInAsync).AllowAnonymous().RequireRateLimiting(RateLimits.SignIn).WithSummary("Sign in");
        api.MapPost("/session/refresh", RefreshAsync)
            .AllowAnonymous()
            .RequireRateLimiting(RateLimits.SignIn)
            .WithSummary("Renew a session");
        api.MapPost("/session/switch", SwitchAsync)
            .RequireAuthorization(Policies.InPerson)
            .RequireRateLimiting(RateLimits.SignIn)
            .WithSummary("Go over to another school that address and password opened at sign-in; this session ends");
        api.MapDelete("/session", SignOutAsync)
            .RequireAuthorization(Policies.InPerson)
            .WithSummary("Sign out; the session's tokens end at once");
        api.MapGet("/me", MeAsync).RequireAuthorization(Policies.SignedIn).WithSummary("The signed-in person and the school");
        api.MapGet("/me/schools", MySchoolsAsync)
            .RequireAuthorization(Policies.InPerson)
            .WithSummary("The schools that address and password opened at sign-in");
    }

    private static async Task<Results<Ok<SessionTokens>, ProblemHttpResult>> SignInAsync(
        SignIn signIn,
        SignInService desk,
        Tokens tokens,
        CancellationToken ct
    )
    {
        if (string.IsNullOrWhiteSpace(signIn.Email) || string.IsNullOrEmpty(signIn.Password))
            return Problems.Invalid("sign-in-incomplete", "Give both email and password.");
        return Answer(await desk.SignInAsync(signIn, ct), tokens);
    }

    private static async Task<Results<Ok<SessionTokens>, ProblemHttpResult>> RefreshAsync(
        RefreshSession refresh,
        SignInService desk,
        Tokens tokens,
        CancellationToken ct
    )
    {
        if (
            tokens.ReadRefresh(refresh.RefreshToken ?? "") is { } holder
            && SchoolClaims.Read(holder) is { } of
            && await desk.IsSuspendedAsync(of.SchoolId, ct)
        )
        {
            return Problems.Suspended();
        }

        if (
            tokens.ReadRefresh(refresh.RefreshToken ?? "") is not { } principal
            || SchoolClaims.Read(principal) is not { } keys
            || await desk.RenewAsync(keys.SchoolId, keys.SessionId, keys.Generation, ct) is not { } renewed
        )
        {
            return Problems.Unauthorized("This session has ended: sign in again.");
        }

        return TypedResults.Ok(TokensFor(tokens, renewed.Person, renewed.Session));
    }

    private static async Task<Results<Ok<SessionTokens>, ProblemHttpResult>> SwitchAsync(
        SwitchSchool to,
        CurrentPerson me,
        SchoolSwitch schools,
        Tokens tokens,
        CancellationToken ct
    ) =>
        await schools.ToAsync(me, to.SchoolId, to.Code, ct) is { } result
            ? Answer(result, tokens)
            : Problems.NotFound("school among those you signed in to");

    private static async Task<NoContent> SignOutAsync(CurrentPerson me, SignInService desk, CancellationToken ct)
    {
        await desk.EndAsync(me.SessionId, ct);
        return TypedResults.NoContent();
    }

    private static async Task<Ok<Me>> MeAsync(CurrentPerson me, SchoolDrillsDbContext db, CancellationToken ct)
    {
        // In one query: this is what every page and every client asks first.
        var asked = await db
            .Schools.AsNoTracking()
            .Select(s => new { School = s, Email = db.People.Where(p => p.Id == me.Id).Select(p => p.Email).First() })
            .SingleAsync(ct);
        var school = asked.School;
        return TypedResults.Ok(
            new Me(
                me.Id,
                me.DisplayName,
                asked.Email!,
                me.Roles,
                new SchoolSummary(school.Id, school.Name, school.TimeZone, school.GradeScale)
                {
                    Grading = school.Grading,
                    DueInDays = school.DueInDays,
                    InstructorsDraft = school.InstructorsDraft,
                }
            )
        );
    }

    private static async Task<Ok<IReadOnlyList<SchoolChoice>>> MySchoolsAsync(
        CurrentPerson me,
        SchoolSwitch schools,
        CancellationToken ct
    ) => TypedResults.Ok(await schools.OfAsync(me, ct));

    private static Results<Ok<SessionTokens>, ProblemHttpResult> Answer(SignInResult result, Tokens tokens) =>
        result.Outcome switch
        {
            SignInOutcome.Welcome => TypedResults.Ok(TokensFor(tokens, result.Person!, result.Session!)),
            SignInOutcome.TooSoon => Problems.TooSoon(result.Wait),
            SignInOutcome.WhichSchool => Problems.WhichSchool([
                .. result.Proven!.Accounts.Select(a => new SchoolChoice(a.SchoolId, a.School)),
            ]),
            SignInOutcome.NeedsCode => Problems.NeedsCode(),
            SignInOutcome.Suspended => Problems.Suspended(),
            _ => Problems.Unauthorized("Email and password do not belong together, or the code is not the present one."),
        };

    private static SessionTokens TokensFor(Tokens tokens, Person person, Session session)
    {
        var principal = SchoolClaims.Of(person, session, IdentityConstants.BearerScheme);
        var (access, expires) = tokens.Access(principal, Tokens.AccessLife);
        return new SessionTokens(access, expires, tokens.Refresh(principal, session.ExpiresAtUtc));
    }
}

/// <summary>
/// Several schools, one person: an account at each, which know nothing of each other. A session remembers which accounts its address
/// and password opened; only to those does it lead over, so that an account made in somebody's name at one school opens nothing at
/// another.
/// </summary>
internal sealed class SchoolSwitch(AccountsDbContext db, SchoolScope scope, SignInService desk)
{
    public async Task<IReadOnlyList<SchoolChoice>> OfAsync(CurrentPerson me, CancellationToken ct)
    {
        var here = await db.Schools.AsNoTracking().SingleAsync(ct);
        var proven = await ProvenAsync(me, ct);
        return
        [
            new SchoolChoice(here.Id, here.Name, true),
            .. proven.Accounts.Where(a => a.SchoolId != here.Id).Select(a => new SchoolChoice(a.SchoolId, a.School)),
        ];
    }

    /// <summary>A session at the other school, and the end of this one; null where this session does not lead there.</summary>
    public async Task<SignInResult?> ToAsync(CurrentPerson me, Guid schoolId, string? code, CancellationToken ct)
    {
        var proven = await ProvenAsync(me, ct);
        if (schoolId == me.SchoolId || proven.Accounts.All(a => a.SchoolId != schoolId))
            return null;
        var result = await desk.FinishAsync(proven, schoolId, code, ct);
        if (result.Outcome != SignInOutcome.Welcome)
            return result;
        scope.Enter(me.Viewer);
        await desk.EndAsync(me.SessionId, ct);
        return result;
    }

    private async Task<ProvenAddress> ProvenAsync(CurrentPerson me, CancellationToken ct)
    {
        var session = await db.Sessions.AsNoTracking().SingleAsync(s => s.Id == me.SessionId, ct);
        var accounts = new List<ProvenAccount>();
        var email = "";
        foreach (var account in session.Others.Append(new SchoolAccount(me.SchoolId, me.Id)))
        {
            scope.Enter(Viewer.SigningIn(account.SchoolId));
            var person = await db.People.AsNoTracking().FirstOrDefaultAsync(p => p.Id == account.PersonId && p.Active, ct);
            if (person is null)
                continue;
            email = person.NormalizedEmail ?? email;
            accounts.Add(
                new ProvenAccount(
                    account.SchoolId,
                    account.PersonId,
                    await db.Schools.AsNoTracking().Select(s => s.Name).SingleAsync(ct),
                    person.TwoFactorEnabled
                )
            );
        }

        scope.Enter(me.Viewer);
        return new ProvenAddress(email, accounts, session.PasswordAtUtc);
    }
}
