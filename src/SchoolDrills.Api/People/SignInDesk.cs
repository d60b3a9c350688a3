using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.People;

/// <summary>What came of a try to sign in.</summary>
internal enum SignInOutcome
{
    Welcome,
    Refused,
    LockedOut,
}

/// <summary>Checks address and password, and starts, renews and ends sessions.</summary>
internal sealed class SignInDesk(SchoolDrillsDbContext db, SchoolScope scope, UserManager<Person> people, IPasswordHasher<Person> hasher, TimeProvider clock)
{
    /// <summary>Someone nobody is: checked against where an address is unknown, so that the answer takes as long.</summary>
    private static readonly Person Nobody = new() { SchoolId = Guid.Empty, DisplayName = "", Roles = [] };

    private static readonly string NobodysHash = new PasswordHasher<Person>().HashPassword(Nobody, Guid.NewGuid().ToString());

    public async Task<(SignInOutcome Outcome, Person? Person, Session? Session)> SignInAsync(string email, string password, CancellationToken ct)
    {
        var normalized = people.NormalizeEmail(email.Trim());
        var found = await db.Database
            .SqlQuery<FoundPerson>($"select id as \"Id\", school_id as \"SchoolId\" from lookup.person_by_email({normalized})")
            .FirstOrDefaultAsync(ct);
        if (found is null)
        {
            hasher.VerifyHashedPassword(Nobody, NobodysHash, password);
            return (SignInOutcome.Refused, null, null);
        }

        scope.Enter(found.SchoolId, null);
        var person = await db.People.SingleAsync(p => p.Id == found.Id, ct);
        if (await people.IsLockedOutAsync(person)) return (SignInOutcome.LockedOut, null, null);
        if (!await people.CheckPasswordAsync(person, password))
        {
            await people.AccessFailedAsync(person);
            return (await people.IsLockedOutAsync(person) ? SignInOutcome.LockedOut : SignInOutcome.Refused, null, null);
        }

        if (!person.Active) return (SignInOutcome.Refused, null, null);
        await people.ResetAccessFailedCountAsync(person);
        var now = clock.GetUtcNow();
        var session = new Session { SchoolId = person.SchoolId, PersonId = person.Id, StartedAtUtc = now, ExpiresAtUtc = now + Session.Life };
        db.Sessions.Add(session);
        await db.SaveChangesAsync(ct);
        return (SignInOutcome.Welcome, person, session);
    }

    /// <summary>A further generation of a session, or null where it ended or the token is an old one; an old one ends the session.</summary>
    public async Task<(Person Person, Session Session)?> RenewAsync(Guid schoolId, Guid sessionId, int generation, CancellationToken ct)
    {
        scope.Enter(schoolId, null);
        var now = clock.GetUtcNow();
        var session = await db.Sessions.FirstOrDefaultAsync(s => s.Id == sessionId && s.EndedAtUtc == null && s.ExpiresAtUtc > now, ct);
        if (session is null) return null;
        var person = await db.People.SingleAsync(p => p.Id == session.PersonId, ct);
        if (!person.Active) return null;
        if (generation != session.Generation)
        {
            session.EndedAtUtc = now;
            await db.SaveChangesAsync(ct);
            return null;
        }

        session.Generation++;
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

    public Task EndAsync(Guid sessionId, CancellationToken ct) =>
        db.Sessions.Where(s => s.Id == sessionId && s.EndedAtUtc == null).ExecuteUpdateAsync(s => s.SetProperty(x => x.EndedAtUtc, clock.GetUtcNow()), ct);

    private sealed record FoundPerson(Guid Id, Guid SchoolId);
}
