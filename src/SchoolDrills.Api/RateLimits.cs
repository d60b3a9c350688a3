using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Access;

namespace SchoolDrills.Api;

/// <summary>How often one client may do what costs much or invites guessing.</summary>
internal static class RateLimits
{
    public const string SignIn = "sign-in",
        Preview = "preview";

    public static IServiceCollection AddRateLimits(this IServiceCollection services) =>
        services.AddRateLimiter(limits =>
        {
            limits.AddPolicy(SignIn, http => PerMinute(http.Connection.RemoteIpAddress?.ToString() ?? "unknown", 60));
            limits.AddPolicy(Preview, http => PerMinute(http.Features.Get<CurrentPerson>()?.Id.ToString() ?? "unknown", 120));
            limits.RejectionStatusCode = StatusCodes.Status429TooManyRequests;
            limits.OnRejected = async (context, ct) =>
                await Problems
                    .TooMany("That was too often for one minute: wait a minute and try again.")
                    .ExecuteAsync(context.HttpContext)
                    .WaitAsync(ct);
        });

    private static RateLimitPartition<string> PerMinute(string who, int times) =>
        RateLimitPartition.GetSlidingWindowLimiter(
            who,
            _ => new SlidingWindowRateLimiterOptions
            {
                PermitLimit = times,
                Window = TimeSpan.FromMinutes(1),
                SegmentsPerWindow = 6,
                QueueLimit = 0,
            }
        );
}
