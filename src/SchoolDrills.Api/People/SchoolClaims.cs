using System.Security.Claims;

namespace SchoolDrills.Api.People;

/// <summary>What tokens and cookies carry: keys alone. Name and roles are read afresh at each request.</summary>
internal static class SchoolClaims
{
    private const string Person = "sub", School = "school", Session = "session", Generation = "generation";

    public static ClaimsPrincipal Of(Person person, Session session, string scheme) => new(new ClaimsIdentity(
        [
            new Claim(Person, person.Id.ToString()),
            new Claim(School, person.SchoolId.ToString()),
            new Claim(Session, session.Id.ToString()),
            new Claim(Generation, session.Generation.ToString(System.Globalization.CultureInfo.InvariantCulture)),
            new Claim(ClaimTypes.Name, person.DisplayName),
            .. person.Roles.Select(role => new Claim(ClaimTypes.Role, role)),
        ],
        scheme));

    /// <summary>The keys, or null where they are not all there.</summary>
    public static (Guid PersonId, Guid SchoolId, Guid SessionId, int Generation)? Read(ClaimsPrincipal principal) =>
        Guid.TryParse(principal.FindFirstValue(Person), out var person)
        && Guid.TryParse(principal.FindFirstValue(School), out var school)
        && Guid.TryParse(principal.FindFirstValue(Session), out var session)
        && int.TryParse(principal.FindFirstValue(Generation), out var generation)
            ? (person, school, session, generation)
            : null;
}
