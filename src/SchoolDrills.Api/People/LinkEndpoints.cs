using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>
/// Passwords chosen by link: an invitation accepted, a forgotten one replaced. The secret travels in bodies, never in addresses of the
/// API.
/// </summary>
internal static class LinkEndpoints
{
    /// <summary>At most one link by mail in this time: nobody's letter box is filled by somebody else.</summary>
    private static readonly TimeSpan MailEvery = TimeSpan.FromMinutes(5);

    public static void MapLinks(this RouteGroupBuilder api)
    {
        api.MapPost("/links/look", LookAsync)
            .AllowAnonymous()
            .RequireRateLimiting(RateLimits.SignIn)
            .WithSummary("What an invitation or reset link is for");
        api.MapPost("/links/accept", AcceptAsync)
            .AllowAnonymous()
            .RequireRateLimiting(RateLimits.SignIn)
            .WithSummary("Chooses a password with a link, which is used up by it");
        api.MapPost("/password/forgot", ForgotAsync)
            .AllowAnonymous()
            .RequireRateLimiting(RateLimits.SignIn)
            .WithSummary("Mails a link for a new password; the answer is the same for every address");
    }

    private static async Task<Results<Ok<LinkDetail>, ProblemHttpResult>> LookAsync(
        LinkToken sent,
        EntryLinks links,
        SignInService desk,
        AccountsDbContext db,
        CancellationToken ct
    )
    {
        if (await links.FindAsync(sent.Token, ct) is not var (link, person))
            return Void();
        if (await desk.IsSuspendedAsync(person.SchoolId, ct))
            return Problems.Suspended();
        var school = await db.Schools.AsNoTracking().Select(s => s.Name).SingleAsync(ct);
        return TypedResults.Ok(new LinkDetail(link.Kind, person.DisplayName, person.Email!, school, link.ExpiresAtUtc));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> AcceptAsync(
        AcceptLink sent,
        EntryLinks links,
        SignInService desk,
        AccountsDbContext db,
        Passwords passwords,
        SignInFailures failures,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await links.FindAsync(sent.Token, ct) is not var (link, person))
            return Void();
        if (await desk.IsSuspendedAsync(person.SchoolId, ct))
            return Problems.Suspended();
        if (Passwords.Problem(sent.Password) is { } problem)
            return Problems.Unprocessable("password", problem);

        var now = clock.GetUtcNow();
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        // Of two at once, the second finds the link closed.
        if (
            await db
                .EntryLinks.Where(l => l.Id == link.Id && l.ClosedAtUtc == null)
                .ExecuteUpdateAsync(l => l.SetProperty(x => x.ClosedAtUtc, now), ct) == 0
        )
        {
            return Void();
        }

        passwords.Choose(person, await db.Credentials.SingleAsync(c => c.PersonId == person.Id, ct), sent.Password!);
        db.AuditEntries.Add(
            new AuditEntry
            {
                SchoolId = person.SchoolId,
                AtUtc = now,
                PersonId = person.Id,
                Action = link.Kind == EntryLink.Invite ? "invitation-accepted" : "password-reset",
                Subject = "person",
                SubjectId = person.Id,
            }
        );
        await db.SaveChangesAsync(ct);
        // Whoever knew the old password is out.
        await desk.EndAllAsync(person.Id, null, ct);
        // And whoever was kept waiting for wrong passwords may sign in with the new one at once.
        await failures.ForgetAsync(person.NormalizedEmail!, ct);
        await transaction.CommitAsync(ct);
        return TypedResults.NoContent();
    }

    private static async Task<Accepted> ForgotAsync(
        ForgotPassword asked,
        EntryLinks links,
        MailQueue mail,
        SignInService desk,
        AccountsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var email = EmailAddress.Normalize(asked.Email ?? "");
        if (!mail.IsConfigured || string.IsNullOrEmpty(email))
            return TypedResults.Accepted((string?)null);
        foreach (
            var key in await db
                .Database.SqlQuery<FoundKey>($"select id as \"Id\", school_id as \"SchoolId\" from lookup.person_by_email({email})")
                .ToListAsync(ct)
        )
        {
            if (await desk.IsSuspendedAsync(key.SchoolId, ct))
                continue;
            var since = clock.GetUtcNow() - MailEvery;
            var person = await db.People.SingleAsync(p => p.Id == key.Id, ct);
            if (!person.Active || !person.HasAccepted || await db.EntryLinks.AnyAsync(l => l.PersonId == key.Id && l.MadeAtUtc > since, ct))
                continue;
            var (link, path) = await links.MakeAsync(person, EntryLink.Reset, ct);
            await db.SaveChangesAsync(ct);
            links.Mail(person, link, path, await db.Schools.AsNoTracking().Select(s => s.Name).SingleAsync(ct));
        }

        return TypedResults.Accepted((string?)null);
    }

    private static ProblemHttpResult Void() =>
        Problems.NotFoundBecause("This link has been used, has expired or was replaced: ask the chief instructor for a new one.");
}
