using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>The password once more, for what takes a recent one (<see cref="Policies.Confirmed"/>).</summary>
internal static class PasswordConfirmation
{
    public static void MapPasswordConfirmation(this RouteGroupBuilder api)
    {
        api.MapGet("/session/confirm", () => TypedResults.NoContent())
            .RequireAuthorization(Policies.Confirmed)
            .WithSummary("Whether the password was given recently enough for what asks for that");
        api.MapPost("/session/confirm", ConfirmAsync)
            .RequireAuthorization(Policies.InPerson)
            .RequireRateLimiting(RateLimits.SignIn)
            .WithSummary("Gives the password again, with a code where the account asks for one; counts for a quarter of an hour");
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> ConfirmAsync(
        ConfirmPassword sent,
        CurrentPerson me,
        AccountsDbContext db,
        PasswordCheck check,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var (person, credentials) = await AccountEndpoints.MineAsync(me, db, ct);
        if (await check.ProblemAsync(person, credentials, sent.Password, sent.Code, ct) is { } problem)
            return problem;
        var session = await db.Sessions.SingleAsync(s => s.Id == me.SessionId, ct);
        session.PasswordAtUtc = clock.GetUtcNow();
        try
        {
            // The code that was used up is saved with it.
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateConcurrencyException)
        {
            return PasswordCheck.WrongCode();
        }

        return TypedResults.NoContent();
    }
}

/// <summary>A signed-in person's password asked for again. Guessing here counts as guessing at the door.</summary>
internal sealed class PasswordCheck(Passwords passwords, SignInFailures failures, SecondFactor secondFactor)
{
    /// <summary>Why the password does not count, or null.</summary>
    public async Task<ProblemHttpResult?> ProblemAsync(Person person, Credentials credentials, string? password, CancellationToken ct)
    {
        var wait = await failures.WaitAsync(person.NormalizedEmail!, ct);
        if (wait > TimeSpan.Zero)
            return Problems.TooSoon(wait);
        return passwords.IsRight(person, credentials, password)
            ? null
            : await CountedAsync(person, Problems.Unprocessable("current-password", "This is not your present password."), ct);
    }

    /// <summary>The same with the code that signing in takes; saving that the code was used is the caller's.</summary>
    public async Task<ProblemHttpResult?> ProblemAsync(
        Person person,
        Credentials credentials,
        string? password,
        string? code,
        CancellationToken ct
    )
    {
        if (await ProblemAsync(person, credentials, password, ct) is { } problem)
            return problem;
        if (person.TwoFactorEnabled)
        {
            if (string.IsNullOrWhiteSpace(code))
            {
                return Problems.Unprocessable(
                    ApiProblemException.SecondFactor,
                    "This account asks for a code as well: give the one that the authenticator app shows, or a recovery code."
                );
            }

            if (!secondFactor.Use(credentials, code))
                return await CountedAsync(person, WrongCode(), ct);
        }

        await failures.ForgetAsync(person.NormalizedEmail!, ct);
        return null;
    }

    public static ProblemHttpResult WrongCode() =>
        Problems.Unprocessable("code", "This is not the code that the app shows now: wait for the next one.");

    private async Task<ProblemHttpResult> CountedAsync(Person person, ProblemHttpResult refusal, CancellationToken ct)
    {
        await failures.CountAsync(person.NormalizedEmail!, ct);
        return refusal;
    }
}
