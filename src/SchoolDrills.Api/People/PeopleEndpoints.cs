using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>The school's people: listed, invited, changed, closed. What they did stays.</summary>
internal static partial class PeopleEndpoints
{
    public static void MapPeople(this RouteGroupBuilder api)
    {
        api.MapGet("/people", ListAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary(
                "People of the school by name, all or of one role. 200 a page unless pageSize says otherwise; the header Link has the next"
            );
        api.MapPost("/people", InviteAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("Invites a person; the link is shown once, and mailed where mail is configured");
        api.MapPost("/people/invitations", InviteAllAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .RequireRateLimiting(RateLimits.Lists)
            .WithSummary("Invites up to 500 people, all of them or none; the links are shown once, and mailed where mail is configured");
        api.MapPut("/people/{id:guid}", EditAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("Sets a person's name and roles; they count from the next request on");
        api.MapPost("/people/{id:guid}/invitation", InviteAgainAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("A new invitation link; the one before is void");
        api.MapDelete("/people/{id:guid}/invitation", WithdrawAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("Withdraws an invitation that was not accepted, and the account with it");
        api.MapPost("/people/{id:guid}/reset-link", ResetAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("A link by which a person chooses a new password");
        api.MapPost("/people/{id:guid}/deactivate", DeactivateAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("Closes an account: its sessions, tokens and links end, its records stay");
        api.MapPost("/people/{id:guid}/reactivate", ReactivateAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("Opens a closed account again");
        api.MapDelete("/people/{id:guid}/second-factor", DropSecondFactorAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("Removes the second factor of somebody who has lost it");
    }

    private static async Task<Results<Ok<IReadOnlyList<PersonSummary>>, ProblemHttpResult>> ListAsync(
        [Words(Roles.Student, Roles.Instructor, Roles.Chief)] string? role,
        int? page,
        int? pageSize,
        HttpContext http,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        AccountsDbContext accounts,
        CancellationToken ct
    )
    {
        if (ListPage.Problem(page, pageSize) is { } problem)
            return problem;
        if (role is not (null or Roles.Student or Roles.Instructor or Roles.Chief))
            return Problems.Invalid("unknown-role", $"role is student, instructor or chief, not '{role}'.");
        var part = ListPage.Of(page, pageSize);
        var asked = db
            .People.AsNoTracking()
            .Where(p => (role == null || p.Roles.Contains(role)) && (me.IsChief || p.ErasedAtUtc == null))
            .OrderBy(p => p.DisplayName)
            .ThenBy(p => p.Id);
        var people = part.Show(await part.Cut(asked).ToListAsync(ct), http);
        var ids = people.Select(p => p.Id).ToList();
        // The newest of each along an index: sessions are kept after they end.
        var signedIn = me.IsChief
            ? await accounts
                .People.Where(p => ids.Contains(p.Id))
                .Select(p => new { p.Id, At = accounts.Sessions.Where(s => s.PersonId == p.Id).Max(s => (DateTimeOffset?)s.StartedAtUtc) })
                .ToDictionaryAsync(p => p.Id, p => p.At, ct)
            : [];
        return TypedResults.Ok<IReadOnlyList<PersonSummary>>([
            .. people.Select(p => Summary(p, me) with { SignedInAtUtc = signedIn.GetValueOrDefault(p.Id) }),
        ]);
    }

    private static async Task<Results<Ok<PersonSummary>, ProblemHttpResult>> EditAsync(
        Guid id,
        EditPerson asked,
        CurrentPerson me,
        AccountsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (ProblemOf(asked.DisplayName, asked.Roles) is { } problem)
            return Problems.Unprocessable("person", problem);
        if (await FindAsync(db, id, ct) is not { } person)
            return Problems.NotFound("person");
        if (person.Roles.Contains(Roles.Chief) && !asked.Roles.Contains(Roles.Chief) && await IsLastChiefAsync(db, id, ct))
            return LastChief();
        person.DisplayName = Names.Plain(asked.DisplayName).Trim();
        if (!person.Roles.Order().SequenceEqual(asked.Roles.Distinct().Order()))
            person.Roles = [.. asked.Roles.Distinct()];
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "person-changed", "person", id));
        await db.SaveChangesAsync(ct);
        return TypedResults.Ok(Summary(person, me));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> DeactivateAsync(
        Guid id,
        CurrentPerson me,
        AccountsDbContext db,
        SignInService desk,
        EntryLinks links,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await FindAsync(db, id, ct) is not { } person)
            return Problems.NotFound("person");
        if (!person.Active)
            return TypedResults.NoContent();
        if (person.Roles.Contains(Roles.Chief) && await IsLastChiefAsync(db, id, ct))
            return LastChief();
        var now = clock.GetUtcNow();
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        (person.Active, person.LeftAtUtc) = (false, now);
        db.AuditEntries.Add(AuditEntry.By(me, now, "person-deactivated", "person", id));
        await db.SaveChangesAsync(ct);
        await desk.EndAllAsync(id, null, ct);
        await links.CloseAsync(id, ct);
        await db
            .ApiTokens.Where(t => t.PersonId == id && t.RevokedAtUtc == null)
            .ExecuteUpdateAsync(t => t.SetProperty(x => x.RevokedAtUtc, now), ct);
        await transaction.CommitAsync(ct);
        return TypedResults.NoContent();
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> ReactivateAsync(
        Guid id,
        CurrentPerson me,
        AccountsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await FindAsync(db, id, ct) is not { } person)
            return Problems.NotFound("person");
        if (person.Active)
            return TypedResults.NoContent();
        (person.Active, person.LeftAtUtc) = (true, null);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "person-reactivated", "person", id));
        await db.SaveChangesAsync(ct);
        return TypedResults.NoContent();
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> DropSecondFactorAsync(
        Guid id,
        CurrentPerson me,
        AccountsDbContext db,
        SignInService desk,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await FindAsync(db, id, ct) is not { } person)
            return Problems.NotFound("person");
        SecondFactor.Remove(person, await db.Credentials.SingleAsync(c => c.PersonId == id, ct));
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "second-factor-removed", "person", id));
        await db.SaveChangesAsync(ct);
        await desk.EndAllAsync(id, id == me.Id ? me.SessionId : null, ct);
        return TypedResults.NoContent();
    }

    internal static PersonSummary Summary(Person p, CurrentPerson me) =>
        new(
            p.Id,
            p.DisplayName,
            me.IsChief || me.MaySee(p.Id) || !p.Roles.Contains(Roles.Student) ? p.Email ?? "" : "",
            p.Roles,
            p.Active,
            p.ErasedAtUtc is not null ? "erased"
                : !p.Active ? "closed"
                : p.HasAccepted ? "active"
                : "invited",
            me.IsChief && p.TwoFactorEnabled,
            me.IsChief && p.LegalHold
        );

    /// <summary>A person who can still be changed; an erased one is nobody any more.</summary>
    internal static Task<Person?> FindAsync(SchoolDrillsDbContext db, Guid id, CancellationToken ct) =>
        db.People.FirstOrDefaultAsync(p => p.Id == id && p.ErasedAtUtc == null, ct);

    internal static ProblemHttpResult LastChief() =>
        Problems.Conflict("last-chief", "A school needs a chief instructor: make somebody else one first.");

    internal static async Task<bool> IsLastChiefAsync(AccountsDbContext db, Guid id, CancellationToken ct) =>
        !await db.People.AnyAsync(p => p.Id != id && p.Active && p.HasAccepted && p.Roles.Contains(Roles.Chief), ct);

    private static string? ProblemOf(string? name, IReadOnlyList<string>? roles)
    {
        if (name is null || string.IsNullOrWhiteSpace(Names.Plain(name)) || name.Trim().Length > 200 || name.Any(char.IsControl))
            return "A person needs a name of at most 200 characters.";
        if (roles is null or { Count: 0 })
            return "Give at least one role: student, instructor or chief.";
        return roles.FirstOrDefault(r => r is not (Roles.Student or Roles.Instructor or Roles.Chief)) is { } unknown
            ? $"'{unknown}' is no role: a role is student, instructor or chief."
            : null;
    }
}
