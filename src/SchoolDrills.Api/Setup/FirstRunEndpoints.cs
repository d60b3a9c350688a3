using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Drills;
using SchoolDrills.Api.People;
using SchoolDrills.Api.Schools;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Setup;

/// <summary>A school and its chief instructor, made by whoever holds a link that the first start or new-school printed.</summary>
internal static class FirstRunEndpoints
{
    public static void MapFirstRun(this RouteGroupBuilder api) =>
        api.MapPost("/first-run", MakeSchoolAsync)
            .AllowAnonymous()
            .RequireRateLimiting(RateLimits.SignIn)
            .WithSummary("Sets up a school and its chief instructor, with the token of a link the server printed");

    private static async Task<Results<NoContent, ProblemHttpResult>> MakeSchoolAsync(
        FirstRun sent,
        SchoolScope scope,
        AccountsDbContext db,
        Passwords passwords,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (Incomplete(sent) is { } problem)
            return Problems.Unprocessable("first-run", problem);
        // Before the first query: the school is set as a connection opens.
        var schoolId = Guid.CreateVersion7();
        scope.Enter(Viewer.SigningIn(schoolId));
        var now = clock.GetUtcNow();
        var oldest = now - FirstRunToken.Life;
        var hash = Secrets.HashOf(sent.Token);
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        // Taking the token and making the school stand or fall together; of two at once, the second waits here and finds it used.
        if (
            await db
                .FirstRunTokens.Where(t => t.Hash == hash && t.UsedAtUtc == null && t.MadeAtUtc > oldest)
                .ExecuteUpdateAsync(t => t.SetProperty(x => x.UsedAtUtc, now), ct) == 0
        )
        {
            return Problems.Forbidden(
                "This link has been used, is over a week old or is not the newest: ask whoever runs the server for a new one, or sign in."
            );
        }

        db.Schools.Add(
            new School
            {
                Id = schoolId,
                Name = Names.Plain(sent.SchoolName).Trim(),
                TimeZone = sent.TimeZone,
            }
        );
        await StarterCatalogue.AddCatalogueAsync(db, schoolId, now, ct);
        var chief = new Person
        {
            SchoolId = schoolId,
            DisplayName = Names.Plain(sent.DisplayName).Trim(),
            Roles = [Roles.Chief, Roles.Instructor],
            Email = sent.Email.Trim(),
        };
        var credentials = Credentials.None(chief);
        passwords.Choose(chief, credentials, sent.Password);
        db.People.Add(chief);
        db.Credentials.Add(credentials);
        db.AuditEntries.Add(
            new AuditEntry
            {
                SchoolId = schoolId,
                AtUtc = now,
                PersonId = chief.Id,
                Action = "school-made",
                Subject = "school",
                SubjectId = schoolId,
            }
        );
        await db.SaveChangesAsync(ct);
        await transaction.CommitAsync(ct);
        return TypedResults.NoContent();
    }

    private static string? Incomplete(FirstRun sent)
    {
        if (string.IsNullOrWhiteSpace(sent.Token))
            return "The link's token is missing: open the whole link as the server printed it.";
        if (sent.SchoolName is null || string.IsNullOrWhiteSpace(Names.Plain(sent.SchoolName)) || sent.SchoolName.Length > 200)
            return "The school needs a name of at most 200 characters.";
        if (sent.DisplayName is null || string.IsNullOrWhiteSpace(Names.Plain(sent.DisplayName)) || sent.DisplayName.Length > 200)
            return "The chief instructor needs a name of at most 200 characters.";
        if (string.IsNullOrWhiteSpace(sent.Email) || !EmailAddress.IsPlausible(sent.Email.Trim()))
            return "Give the address the chief instructor will sign in with.";
        if (string.IsNullOrEmpty(sent.Password))
            return "Choose a password.";
        if (Passwords.Problem(sent.Password) is { } problem)
            return problem;
        return string.IsNullOrWhiteSpace(sent.TimeZone) || !TimeZoneInfo.TryFindSystemTimeZoneById(sent.TimeZone, out _)
            ? $"'{sent.TimeZone}' is no time zone: give its IANA name, as Pacific/Auckland."
            : null;
    }
}
