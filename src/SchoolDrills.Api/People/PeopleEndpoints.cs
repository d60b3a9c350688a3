using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

internal static class PeopleEndpoints
{
    public static void MapPeople(this RouteGroupBuilder api) =>
        api.MapGet("/people", ListAsync).RequireAuthorization(Policies.Instructor).WithSummary("People of the school, all or of one role");

    private static async Task<Results<Ok<IReadOnlyList<PersonSummary>>, ProblemHttpResult>> ListAsync(string? role, SchoolDrillsDbContext db, CancellationToken ct)
    {
        if (role is not (null or Roles.Student or Roles.Instructor or Roles.Chief)) return Problems.Invalid("unknown-role", $"role is student, instructor or chief, not '{role}'.");
        var people = await db.People.AsNoTracking()
            .Where(p => role == null || p.Roles.Contains(role))
            .OrderBy(p => p.DisplayName)
            .Select(p => new PersonSummary(p.Id, p.DisplayName, p.Email!, p.Roles, p.Active))
            .ToListAsync(ct);
        return TypedResults.Ok<IReadOnlyList<PersonSummary>>(people);
    }
}
