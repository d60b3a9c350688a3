using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.People;

/// <summary>Makes, finds and closes the links by which passwords are chosen.</summary>
internal sealed class EntryLinks(AccountsDbContext db, SchoolScope scope, MailQueue mail, TimeProvider clock)
{
    /// <summary>A fresh link; those before it close. Saving is the caller's, and mailing after it.</summary>
    public async Task<(EntryLink Link, string Path)> MakeAsync(Person person, string kind, CancellationToken ct)
    {
        await CloseAsync(person.Id, ct);
        return Add(person, kind);
    }

    /// <summary>A link of somebody who has none yet.</summary>
    public (EntryLink Link, string Path) Add(Person person, string kind)
    {
        var now = clock.GetUtcNow();
        var secret = Secrets.New();
        var link = new EntryLink
        {
            SchoolId = person.SchoolId,
            PersonId = person.Id,
            Kind = kind,
            Hash = Secrets.HashOf(secret),
            MadeAtUtc = now,
            ExpiresAtUtc = now + (kind == EntryLink.Invite ? EntryLink.InviteLife : EntryLink.ResetLife),
        };
        db.EntryLinks.Add(link);
        return (link, $"/welcome?token={secret}");
    }

    /// <summary>Hands the link to the mail server, where one is configured.</summary>
    public bool Mail(Person person, EntryLink link, string path, string school) =>
        mail.Send(
            person.Email!,
            link.Kind == EntryLink.Invite ? $"Your account at {school}" : $"A new password for {school}",
            site =>
                link.Kind == EntryLink.Invite
                    ? $"{school} keeps its instrument drills with SchoolDrills and has made an account for "
                        + $"you.\n\nChoose your password here, within seven days:\n{site}{path}\n\nIf you do "
                        + "not know the school, take no notice of this mail."
                    : $"Choose a new password for {school} here, within a day:\n{site}{path}\n\nIf you did not "
                        + "ask for it, take no notice: your password stays as it is."
        );

    public Task CloseAsync(Guid personId, CancellationToken ct) =>
        db
            .EntryLinks.Where(l => l.PersonId == personId && l.ClosedAtUtc == null)
            .ExecuteUpdateAsync(l => l.SetProperty(x => x.ClosedAtUtc, clock.GetUtcNow()), ct);

    /// <summary>Enters the school of an open link, or answers null. Unknown, used, expired and withdrawn are one and the same.</summary>
    public async Task<(EntryLink Link, Person Person)?> FindAsync(string? secret, CancellationToken ct)
    {
        if (string.IsNullOrWhiteSpace(secret))
            return null;
        var hash = Secrets.HashOf(secret.Trim());
        var found = await db
            .Database.SqlQuery<FoundKey>($"select id as \"Id\", school_id as \"SchoolId\" from lookup.link_by_hash({hash})")
            .SingleOrDefaultAsync(ct);
        if (found is null)
            return null;
        scope.Enter(Viewer.SigningIn(found.SchoolId));
        var now = clock.GetUtcNow();
        var link = await db.EntryLinks.FirstOrDefaultAsync(l => l.Id == found.Id && l.ClosedAtUtc == null && l.ExpiresAtUtc > now, ct);
        if (link is null)
            return null;
        var person = await db.People.SingleAsync(p => p.Id == link.PersonId, ct);
        return person.Active ? (link, person) : null;
    }
}
