using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>
/// Who may call what. Which rows a person sees is a second question, answered by
/// <see cref="VisibleWork.VisibleTo"/> in the queries and by row-level security in the database.
/// </summary>
internal static class Policies
{
    /// <summary>Anyone of the school.</summary>
    public const string SignedIn = "signed-in";

    /// <summary>Somebody who signed in, not a program with a token: for whatever an account stands or falls with.</summary>
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
                    policy
                        .RequireAuthenticatedUser()
                        .RequireRole(Roles.Student, Roles.Instructor, Roles.Chief)
                        .RequireClaim(SchoolClaims.Session)
            );
            options.AddPolicy(
                ChiefInPerson,
                policy => policy.RequireAuthenticatedUser().RequireRole(Roles.Chief).RequireClaim(SchoolClaims.Session)
            );
            options.AddPolicy(Instructor, policy => policy.RequireAuthenticatedUser().RequireRole(Roles.Instructor, Roles.Chief));
            options.AddPolicy(Chief, policy => policy.RequireAuthenticatedUser().RequireRole(Roles.Chief));
        });
}
