using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Authorization.Infrastructure;
using Microsoft.AspNetCore.Authorization.Policy;
using Microsoft.AspNetCore.Http;

namespace SchoolDrills.Api.Access;

/// <summary>The session's password was given a short while ago, at sign-in or since.</summary>
internal sealed class RecentPassword : IAuthorizationRequirement
{
    public static readonly TimeSpan Life = TimeSpan.FromMinutes(15);
}

internal sealed class RecentPasswordHandler(TimeProvider clock) : AuthorizationHandler<RecentPassword>
{
    protected override Task HandleRequirementAsync(AuthorizationHandlerContext context, RecentPassword requirement)
    {
        if (
            context.Resource is HttpContext http
            && http.Features.Get<CurrentPerson>()?.PasswordAtUtc is { } given
            && given > clock.GetUtcNow() - RecentPassword.Life
        )
        {
            context.Succeed(requirement);
        }

        return Task.CompletedTask;
    }
}

/// <summary>Says which part of a policy was not met, where the person can do something about it.</summary>
internal sealed class PolicyRefusals : IAuthorizationMiddlewareResultHandler
{
    private readonly AuthorizationMiddlewareResultHandler usual = new();

    public Task HandleAsync(
        RequestDelegate next,
        HttpContext context,
        AuthorizationPolicy policy,
        PolicyAuthorizationResult authorizeResult
    )
    {
        IAuthorizationRequirement[] unmet = authorizeResult.Forbidden
            ? [.. authorizeResult.AuthorizationFailure?.FailedRequirements ?? []]
            : [];
        if (unmet.OfType<RolesAuthorizationRequirement>().Any())
            return usual.HandleAsync(next, context, policy, authorizeResult);
        if (unmet.OfType<ClaimsAuthorizationRequirement>().Any())
            return Problems.NotForTokens().ExecuteAsync(context);
        if (unmet.OfType<MayDraft>().Any())
            return Problems.DraftsAreTheChiefs().ExecuteAsync(context);
        return unmet.OfType<RecentPassword>().Any()
            ? Problems.ConfirmPassword().ExecuteAsync(context)
            : usual.HandleAsync(next, context, policy, authorizeResult);
    }
}
