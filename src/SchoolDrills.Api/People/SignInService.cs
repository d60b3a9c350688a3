using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>What came of a try to sign in.</summary>
internal enum SignInOutcome
{
    Welcome,
    Refused,

    /// <summary>After several wrong passwords: not looked at before the wait is over.</summary>
    TooSoon,

    /// <summary>Address and password open several schools: one has to be chosen.</summary>
    WhichSchool,

    /// <summary>The account asks for a code as well.</summary>
    NeedsCode,

    /// <summary>The operator has the school suspended.</summary>
    Suspended,
}

/// <summary>The outcome, with the session where there is one and what was proven where more is asked.</summary>
internal sealed record SignInResult(SignInOutcome Outcome, Person? Person = null, Session? Session = null, ProvenAddress? Proven = null)
{
    /// <summary>Of <see cref="SignInOutcome.TooSoon"/>: how long.</summary>
    public TimeSpan Wait { get; init; }
}

/// <summary>
/// An address whose password was right, and the accounts it opens. Worth as much as the password for as long as it is believed.
/// </summary>
/// <param name="PasswordAtUtc">When the password was given.</param>
internal sealed record ProvenAddress(string NormalizedEmail, IReadOnlyList<ProvenAccount> Accounts, DateTimeOffset PasswordAtUtc);

internal sealed record ProvenAccount(Guid SchoolId, Guid PersonId, string School, bool NeedsCode);

/// <summary>Checks address, password and code, and starts, renews and ends sessions.</summary>
internal sealed class SignInService(
    AccountsDbContext db,
    SchoolScope scope,
    Passwords passwords,
    SignInFailures failures,
    SecondFactor secondFactor,
    TimeProvider clock
)
{
    public async Task<SignInResult> SignInAsync(SignIn asked, CancellationToken ct)
    {
        var email = EmailAddress.Normalize(asked.Email);
        if (await TooSoonAsync(email, ct) is { } wait)
            return wait;
        var accounts = await ProveAsync(email, asked.Password, ct);
        if (accounts.Count == 0)
            return await FailedAsync(email, ct);
        return await FinishAsync(new ProvenAddress(email, accounts, clock.GetUtcNow()), asked.SchoolId, asked.Code, ct);
    }

    /// <summary>Goes on from a right password: to the school chosen, with the code asked for.</summary>
    public async Task<SignInResult> FinishAsync(ProvenAddress proven, Guid? schoolId, string? code, CancellationToken ct)
    {
        var account = proven.Accounts is [var only] ? only : proven.Accounts.FirstOrDefault(a => a.SchoolId == schoolId);
        if (account is null)
            return new SignInResult(SignInOutcome.WhichSchool, Proven: proven);
        if (await TooSoonAsync(proven.NormalizedEmail, ct) is { } wait)
            return wait;
        scope.Enter(Viewer.SigningIn(account.SchoolId));
        var person = await db.People.SingleAsync(p => p.Id == account.PersonId, ct);
        if (!person.Active)
            return new SignInResult(SignInOutcome.Refused);
        if (await IsSuspendedAsync(account.SchoolId, ct))
            return new SignInResult(SignInOutcome.Suspended);
        if (person.TwoFactorEnabled)
        {
            if (string.IsNullOrWhiteSpace(code))
                return new SignInResult(SignInOutcome.NeedsCode, Proven: proven);
            if (!secondFactor.Use(await db.Credentials.SingleAsync(c => c.PersonId == person.Id, ct), code))
                return await FailedAsync(proven.NormalizedEmail, ct);
        }

        await failures.ForgetAsync(proven.NormalizedEmail, ct);
        var now = clock.GetUtcNow();
        var session = new Session
        {
            SchoolId = person.SchoolId,
            PersonId = person.Id,
            StartedAtUtc = now,
            LastSeenAtUtc = now,
            ExpiresAtUtc = now + Session.Life,
            PasswordAtUtc = proven.PasswordAtUtc,
            Ip = scope.From.Ip,
            UserAgent = scope.From.UserAgent,
            Others = [.. proven.Accounts.Where(a => a != account).Select(a => new SchoolAccount(a.SchoolId, a.PersonId))],
        };
        db.Sessions.Add(session);
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateConcurrencyException)
        {
            // The same code came twice at once; it works once.
            return new SignInResult(SignInOutcome.Refused);
        }

        return new SignInResult(SignInOutcome.Welcome, person, session);
    }

    /// <summary>
    /// A further generation of a session, or null where it ended or the token is an old one; an old one ends the session.
    /// </summary>
    public async Task<(Person Person, Session Session)?> RenewAsync(Guid schoolId, Guid sessionId, int generation, CancellationToken ct)
    {
        scope.Enter(Viewer.SigningIn(schoolId));
        var now = clock.GetUtcNow();
        var session = await db.Sessions.FirstOrDefaultAsync(s => s.Id == sessionId && s.EndedAtUtc == null && s.ExpiresAtUtc > now, ct);
        if (session is null)
            return null;
        var person = await db.People.SingleAsync(p => p.Id == session.PersonId, ct);
        if (!person.Active)
            return null;
        if (generation != session.Generation)
        {
            session.EndedAtUtc = now;
            await db.SaveChangesAsync(ct);
            return null;
        }

        session.Generation++;
        session.LastSeenAtUtc = now;
        session.ExpiresAtUtc = now + Session.Life;
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateConcurrencyException)
        {
            return null;
        }

        return (person, session);
    }

    /// <summary>Whether the operator has the school suspended. Enters it.</summary>
    public Task<bool> IsSuspendedAsync(Guid schoolId, CancellationToken ct)
    {
        scope.Enter(Viewer.SigningIn(schoolId));
        return db.Schools.AnyAsync(s => s.SuspendedAtUtc != null, ct);
    }

    public Task EndAsync(Guid sessionId, CancellationToken ct) =>
        db
            .Sessions.Where(s => s.Id == sessionId && s.EndedAtUtc == null)
            .ExecuteUpdateAsync(s => s.SetProperty(x => x.EndedAtUtc, clock.GetUtcNow()), ct);

    /// <summary>Ends what a person is signed in with, but for the one session named.</summary>
    public Task EndAllAsync(Guid personId, Guid? except, CancellationToken ct) =>
        db
            .Sessions.Where(s => s.PersonId == personId && s.EndedAtUtc == null && s.Id != except)
            .ExecuteUpdateAsync(s => s.SetProperty(x => x.EndedAtUtc, clock.GetUtcNow()), ct);

    /// <summary>The accounts that address and password open. An address that nobody has costs one check, as one account does.</summary>
    private async Task<IReadOnlyList<ProvenAccount>> ProveAsync(string email, string password, CancellationToken ct)
    {
        var found = await db
            .Database.SqlQuery<FoundKey>($"select id as \"Id\", school_id as \"SchoolId\" from lookup.person_by_email({email})")
            .ToListAsync(ct);
        if (found.Count == 0)
            passwords.CompareWithNobodys(password);
        var proven = new List<ProvenAccount>();
        foreach (var key in found)
        {
            scope.Enter(Viewer.SigningIn(key.SchoolId));
            var person = await db.People.AsNoTracking().SingleAsync(p => p.Id == key.Id, ct);
            var credentials = await db.Credentials.AsNoTracking().SingleAsync(c => c.PersonId == key.Id, ct);
            if (!passwords.IsRight(person, credentials, password) || !person.Active)
                continue;
            proven.Add(
                new ProvenAccount(key.SchoolId, key.Id, await db.Schools.Select(s => s.Name).SingleAsync(ct), person.TwoFactorEnabled)
            );
        }

        return proven;
    }

    private async Task<SignInResult?> TooSoonAsync(string email, CancellationToken ct)
    {
        var wait = await failures.WaitAsync(email, ct);
        return wait > TimeSpan.Zero ? new SignInResult(SignInOutcome.TooSoon) { Wait = wait } : null;
    }

    private async Task<SignInResult> FailedAsync(string email, CancellationToken ct)
    {
        await failures.CountAsync(email, ct);
        return new SignInResult(SignInOutcome.Refused);
    }
}
