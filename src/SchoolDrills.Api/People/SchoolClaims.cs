using System.Globalization;
using System.Security.Claims;
using SchoolDrills.Api.Access;

namespace SchoolDrills.Api.People;

/// <summary>What tokens and cookies carry: keys alone. Name and roles are read again with each request.</summary>
internal static class SchoolClaims
{
    private const string Person = "sub",
        School = "school",
        Generation = "generation",
        Token = "token",
        Pages = "pages";

    public static ClaimsPrincipal Of(Person person, Session session, string scheme) =>
        new(
            new ClaimsIdentity(
                [
                    new Claim(Person, person.Id.ToString()),
                    new Claim(School, person.SchoolId.ToString()),
                    new Claim(Policies.SessionClaim, session.Id.ToString()),
                    new Claim(Generation, session.Generation.ToString(CultureInfo.InvariantCulture)),
                    new Claim(ClaimTypes.Name, person.DisplayName),
                    .. person.Roles.Select(role => new Claim(ClaimTypes.Role, role)),
                ],
                scheme
            )
        );

    public static ClaimsPrincipal OfToken(string hash, string scheme) => new(new ClaimsIdentity([new Claim(Token, hash)], scheme));

    /// <summary>The same person, speaking through the pages: the audit trail then records where the session was started.</summary>
    public static ClaimsPrincipal ThroughPages(ClaimsPrincipal person)
    {
        var identity = ((ClaimsIdentity)person.Identity!).Clone();
        identity.AddClaim(new Claim(Pages, "1"));
        return new ClaimsPrincipal(identity);
    }

    public static bool IsThroughPages(ClaimsPrincipal person) => person.HasClaim(Pages, "1");

    /// <summary>The keys of a session, or null where they are not all there.</summary>
    public static (Guid PersonId, Guid SchoolId, Guid SessionId, int Generation)? Read(ClaimsPrincipal principal) =>
        Key(principal, Person) is { } person
        && Key(principal, School) is { } school
        && Key(principal, Policies.SessionClaim) is { } session
        && int.TryParse(principal.FindFirstValue(Generation), CultureInfo.InvariantCulture, out var generation)
            ? (person, school, session, generation)
            : null;

    /// <summary>The hash of a program's token.</summary>
    public static string? ReadToken(ClaimsPrincipal principal) => principal.FindFirstValue(Token);

    private static Guid? Key(ClaimsPrincipal principal, string claim) =>
        Guid.TryParse(principal.FindFirstValue(claim), out var key) ? key : null;
}
