using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>Many people invited at once.</summary>
internal static partial class PeopleEndpoints
{
    private static async Task<Results<Ok<IReadOnlyList<PersonLink>>, ProblemHttpResult>> InviteAllAsync(
        InvitePeople asked,
        CurrentPerson me,
        AccountsDbContext db,
        EntryLinks links,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (asked.People is null or { Count: 0 })
            return Problems.Unprocessable("people", "Nobody is in this list: send at least one person.");
        if (asked.People.Count > InvitationList.Most)
        {
            return Problems.Unprocessable(
                "people",
                $"A list has at most {InvitationList.Most} people; this one has {asked.People.Count}: send it in parts."
            );
        }

        if (await RefusedRowsAsync(asked.People, db, ct) is { Count: > 0 } rows)
            return RowsRefused(rows);
        var now = clock.GetUtcNow();
        var made = asked.People.Select(Add).ToList();
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateException e) when (e.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation })
        {
            // Somebody else invited one of them at the same moment.
            return RowsRefused(await RefusedRowsAsync(asked.People, db, ct));
        }

        var school = await db.Schools.AsNoTracking().Select(s => s.Name).SingleAsync(ct);
        return TypedResults.Ok<IReadOnlyList<PersonLink>>(
            made.ConvertAll(m => new PersonLink(
                Summary(m.Person, me),
                m.Link.Path,
                m.Link.Link.ExpiresAtUtc,
                links.Mail(m.Person, m.Link.Link, m.Link.Path, school)
            ))
        );

        (Person Person, (EntryLink Link, string Path) Link) Add(InvitePerson one)
        {
            var person = new Person
            {
                SchoolId = me.SchoolId,
                DisplayName = Names.Plain(one.DisplayName).Trim(),
                Roles = [.. one.Roles.Distinct()],
                Email = one.Email.Trim(),
            };
            db.People.Add(person);
            db.Credentials.Add(Credentials.None(person));
            db.AuditEntries.Add(AuditEntry.By(me, now, "person-invited", "person", person.Id, string.Join(", ", person.Roles)));
            return (person, links.Add(person, EntryLink.Invite));
        }
    }

    private static async Task<IReadOnlyDictionary<int, string>> RefusedRowsAsync(
        IReadOnlyList<InvitePerson> people,
        AccountsDbContext db,
        CancellationToken ct
    )
    {
        var addresses = people.Select(p => EmailAddress.Normalize(p?.Email ?? "")).ToArray();
        var taken = await db
            .People.AsNoTracking()
            .Where(p => addresses.Contains(p.NormalizedEmail))
            .Select(p => p.NormalizedEmail!)
            .ToListAsync(ct);
        var rows = new Dictionary<int, string>(InvitationList.ProblemsOf(people, taken.ToHashSet()));
        foreach (var (i, person) in people.Index())
        {
            // A name of marks alone is nothing that could be read.
            if (!rows.ContainsKey(i) && ProblemOf(person.DisplayName, person.Roles) is { } problem)
                rows[i] = problem;
        }

        return rows;
    }

    private static ProblemHttpResult RowsRefused(IReadOnlyDictionary<int, string> rows) =>
        Problems.Rows(
            "people",
            $"Nobody was invited: {(rows.Count == 1 ? "one row" : $"{rows.Count} rows")} cannot be used; errors says which and why.",
            rows
        );
}
