using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Access;

/// <summary>
/// Who may call what. Which rows a person sees is a second question, answered by
/// <see cref="VisibleWork.VisibleTo"/> in the queries and by row-level security in the database.
/// </summary>
internal static class Policies
{
    /// <summary>Claim of somebody who signed in; a program with a token has none.</summary>
    public const string SessionClaim = "session";

    /// <summary>Anyone of the school.</summary>
    public const string SignedIn = "signed-in";

    /// <summary>Somebody who signed in, not a program with a token: for everything that changes who may do what.</summary>
    public const string InPerson = "in-person";

    /// <summary>The chief instructor, likewise in person.</summary>
    public const string ChiefInPerson = "chief-in-person";

    /// <summary>Instructors and the chief.</summary>
    public const string Instructor = "instructor";

    /// <summary>The chief instructor.</summary>
    public const string Chief = "chief";

    public static IServiceCollection AddPolicies(this IServiceCollection services) =>
        services.AddAuthorization(options =>
        {
            options.AddPolicy(
                SignedIn,
                policy => policy.RequireAuthenticatedUser().RequireRole(Roles.Student, Roles.Instructor, Roles.Chief)
            );
            options.AddPolicy(
                InPerson,
                policy =>
                    policy.RequireAuthenticatedUser().RequireRole(Roles.Student, Roles.Instructor, Roles.Chief).RequireClaim(SessionClaim)
            );
            options.AddPolicy(
                ChiefInPerson,
                policy => policy.RequireAuthenticatedUser().RequireRole(Roles.Chief).RequireClaim(SessionClaim)
            );
            options.AddPolicy(Instructor, policy => policy.RequireAuthenticatedUser().RequireRole(Roles.Instructor, Roles.Chief));
            options.AddPolicy(Chief, policy => policy.RequireAuthenticatedUser().RequireRole(Roles.Chief));
        });
}
