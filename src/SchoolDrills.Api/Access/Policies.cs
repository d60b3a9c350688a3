using Microsoft.AspNetCore.Authorization;
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

    /// <summary>Somebody who signed in, not a program with a token: for what concerns sessions and accounts.</summary>
    public const string InPerson = "in-person";

    /// <summary>The chief instructor, likewise in person.</summary>
    public const string ChiefInPerson = "chief-in-person";

    /// <summary>
    /// Somebody who signed in and gave the password recently: for whatever makes, changes or hands out people, roles, links, tokens,
    /// second factors and exports. What is done so outlives the session, so a session left open or stolen is not enough for it.
    /// </summary>
    public const string Confirmed = "confirmed";

    /// <summary>The chief instructor, likewise.</summary>
    public const string ChiefConfirmed = "chief-confirmed";

    /// <summary>Instructors and the chief.</summary>
    public const string Instructor = "instructor";

    /// <summary>The chief instructor.</summary>
    public const string Chief = "chief";

    /// <summary>The chief instructor, and instructors where the school lets them draft drills.</summary>
    public const string Drafting = "drafting";

    public static IServiceCollection AddPolicies(this IServiceCollection services)
    {
        services.AddSingleton<IAuthorizationHandler, RecentPasswordHandler>();
        services.AddScoped<IAuthorizationHandler, MayDraftHandler>();
        services.AddSingleton<IAuthorizationMiddlewareResultHandler, PolicyRefusals>();
        return services.AddAuthorization(options =>
        {
            options.AddPolicy(SignedIn, policy => Anyone(policy));
            options.AddPolicy(InPerson, policy => Anyone(policy).RequireClaim(SessionClaim));
            options.AddPolicy(ChiefInPerson, policy => OnlyChief(policy).RequireClaim(SessionClaim));
            options.AddPolicy(Confirmed, policy => Anyone(policy).RequireClaim(SessionClaim).AddRequirements(new RecentPassword()));
            options.AddPolicy(ChiefConfirmed, policy => OnlyChief(policy).RequireClaim(SessionClaim).AddRequirements(new RecentPassword()));
            options.AddPolicy(Instructor, policy => policy.RequireAuthenticatedUser().RequireRole(Roles.Instructor, Roles.Chief));
            options.AddPolicy(Chief, policy => OnlyChief(policy));
            options.AddPolicy(
                Drafting,
                policy => policy.RequireAuthenticatedUser().RequireRole(Roles.Instructor, Roles.Chief).AddRequirements(new MayDraft())
            );
        });
    }

    private static AuthorizationPolicyBuilder Anyone(AuthorizationPolicyBuilder policy) =>
        policy.RequireAuthenticatedUser().RequireRole(Roles.Student, Roles.Instructor, Roles.Chief);

    private static AuthorizationPolicyBuilder OnlyChief(AuthorizationPolicyBuilder policy) =>
        policy.RequireAuthenticatedUser().RequireRole(Roles.Chief);
}
