using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.People;

/// <summary>
/// Who may call what. Which rows a person sees is a second question, answered by the school's wall in the database and by
/// <see cref="CurrentPerson.MaySee"/> in the queries.
/// </summary>
internal static class Policies
{
    /// <summary>Anyone of the school.</summary>
    public const string SignedIn = "signed-in";

    /// <summary>Instructors and the chief.</summary>
    public const string Instructor = "instructor";

    /// <summary>The chief instructor.</summary>
    public const string Chief = "chief";

    public static IServiceCollection AddPolicies(this IServiceCollection services) => services.AddAuthorization(options =>
    {
        options.AddPolicy(SignedIn, policy => policy.RequireAuthenticatedUser().RequireRole(Roles.Student, Roles.Instructor, Roles.Chief));
        options.AddPolicy(Instructor, policy => policy.RequireAuthenticatedUser().RequireRole(Roles.Instructor, Roles.Chief));
        options.AddPolicy(Chief, policy => policy.RequireAuthenticatedUser().RequireRole(Roles.Chief));
    });
}
