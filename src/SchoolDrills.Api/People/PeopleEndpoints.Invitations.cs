using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>Invitations and reset links.</summary>
internal static partial class PeopleEndpoints
{
    private static async Task<Results<Created<PersonLink>, ProblemHttpResult>> InviteAsync(
        InvitePerson asked,
        CurrentPerson me,
        AccountsDbContext db,
        EntryLinks links,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (ProblemOf(asked.DisplayName, asked.Roles) is { } problem)
            return Problems.Unprocessable("person", problem);
        var email = asked.Email?.Trim() ?? "";
        if (!EmailAddress.IsPlausible(email))
            return Problems.Unprocessable("email", "Give the address that the person will sign in with.");
        var normalized = EmailAddress.Normalize(email);
        if (await db.People.AnyAsync(p => p.NormalizedEmail == normalized, ct))
            return PersonExists(email);

        var person = new Person
        {
            SchoolId = me.SchoolId,
            DisplayName = Names.Plain(asked.DisplayName).Trim(),
            Roles = [.. asked.Roles.Distinct()],
            Email = email,
        };
        db.People.Add(person);
        db.Credentials.Add(Credentials.None(person));
        (EntryLink, string) link;
        try
        {
            link = await LinkAsync(person, EntryLink.Invite, "person-invited", me, db, links, clock, ct);
        }
        catch (DbUpdateException e) when (e.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation })
        {
            // Somebody else invited the same address at the same moment.
            return PersonExists(email);
        }

        return TypedResults.Created($"/api/v1/people/{person.Id}", await MailedAsync(person, link, me, db, links, ct));
    }

    private static async Task<Results<Ok<PersonLink>, ProblemHttpResult>> InviteAgainAsync(
        Guid id,
        CurrentPerson me,
        AccountsDbContext db,
        EntryLinks links,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await FindAsync(db, id, ct) is not { } person)
            return Problems.NotFound("person");
        if (person.HasAccepted || !person.Active)
        {
            return Problems.Conflict(
                "not-invited",
                $"{person.DisplayName} has accepted already, or the account is closed: make a link for a new password instead."
            );
        }

        var link = await LinkAsync(person, EntryLink.Invite, "person-invited", me, db, links, clock, ct);
        return TypedResults.Ok(await MailedAsync(person, link, me, db, links, ct));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> WithdrawAsync(
        Guid id,
        CurrentPerson me,
        AccountsDbContext db,
        SchoolDrillsDbContext work,
        EntryLinks links,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await FindAsync(db, id, ct) is not { } person)
            return Problems.NotFound("person");
        if (person.HasAccepted)
            return Problems.Conflict("accepted", $"{person.DisplayName} has accepted: close the account instead.");
        await links.CloseAsync(id, ct);
        // Somebody who was given work already stays on record; an account that nothing hangs on goes.
        var hasWork =
            await work.Assignments.AnyAsync(a => a.StudentId == id || a.AssignedById == id, ct)
            || await work.Attempts.AnyAsync(a => a.StudentId == id || a.UploadedById == id, ct);
        if (hasWork)
            (person.Active, person.LeftAtUtc) = (false, clock.GetUtcNow());
        else
            db.People.Remove(person);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "invitation-withdrawn", "person", id));
        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }

    private static async Task<Results<Ok<PersonLink>, ProblemHttpResult>> ResetAsync(
        Guid id,
        CurrentPerson me,
        AccountsDbContext db,
        EntryLinks links,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await FindAsync(db, id, ct) is not { } person)
            return Problems.NotFound("person");
        if (!person.Active || !person.HasAccepted)
        {
            return Problems.Conflict(
                "not-active",
                $"{person.DisplayName} has no password yet, or the account is closed: invite again, or open it first."
            );
        }

        var link = await LinkAsync(person, EntryLink.Reset, "reset-link-made", me, db, links, clock, ct);
        return TypedResults.Ok(await MailedAsync(person, link, me, db, links, ct));
    }

    private static ProblemHttpResult PersonExists(string email) =>
        Problems.Conflict(
            "person-exists",
            $"{email} has an account at this school already: change its roles, or open it again, under People."
        );

    private static async Task<(EntryLink Link, string Path)> LinkAsync(
        Person person,
        string kind,
        string action,
        CurrentPerson me,
        AccountsDbContext db,
        EntryLinks links,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var made = await links.MakeAsync(person, kind, ct);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), action, "person", person.Id, string.Join(", ", person.Roles)));
        await db.SaveChangesAsync(ct);
        return made;
    }

    private static async Task<PersonLink> MailedAsync(
        Person person,
        (EntryLink Link, string Path) made,
        CurrentPerson me,
        AccountsDbContext db,
        EntryLinks links,
        CancellationToken ct
    )
    {
        var school = await db.Schools.AsNoTracking().Select(s => s.Name).SingleAsync(ct);
        return new PersonLink(Summary(person, me), made.Path, made.Link.ExpiresAtUtc, links.Mail(person, made.Link, made.Path, school));
    }
}
