using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Uploads;

namespace SchoolDrills.Api;

/// <summary>How often one client may do what costs much or invites guessing.</summary>
internal static class RateLimits
{
    public const string SignIn = "sign-in",
        Preview = "preview",
        Lists = "lists";

    /// <summary>How long one is asked to wait where nothing more exact is known.</summary>
    public static readonly TimeSpan Window = TimeSpan.FromMinutes(1);

    /// <summary>Sign-ins and the like from one address, right or wrong; the wrong ones are limited by <see cref="GuessLimit"/>.</summary>
    private const int SignInsPerMinute = 600;

    public static IServiceCollection AddRateLimits(this IServiceCollection services) =>
        services.AddRateLimiter(limits =>
        {
            limits.AddPolicy(SignIn, http => PerMinute(AddressOf(http), SignInsPerMinute));
            limits.AddPolicy(Preview, http => PerMinute(PersonOf(http), 120));
            limits.AddPolicy(Lists, http => PerMinute(PersonOf(http), 20));
            limits.GlobalLimiter = UploadLimits.AtOnce();
            limits.OnRejected = async (context, ct) =>
                await (
                    context.Lease.TryGetMetadata(MetadataName.RetryAfter, out var wait) ? RefuseAsync(context.HttpContext, wait)
                    : UploadLimits.AreFor(context.HttpContext) ? Problems.TooManyUploads(Window).ExecuteAsync(context.HttpContext)
                    : RefuseAsync(context.HttpContext, Window)
                ).WaitAsync(ct);
        });

    /// <summary>The visitor's address, as text.</summary>
    public static string AddressOf(HttpContext http) => http.Connection.RemoteIpAddress?.ToString() ?? "unknown";

    private static string PersonOf(HttpContext http) => http.Features.Get<CurrentPerson>()?.Id.ToString() ?? "unknown";

    /// <summary>Answers that it was too often, and when to come back.</summary>
    public static Task RefuseAsync(HttpContext http, TimeSpan wait) =>
        Problems.TooMany($"That was too often for one minute: wait {Problems.Wait(wait)} and try again.", wait).ExecuteAsync(http);

    /// <summary>So many times in any minute, counted by sixths of it.</summary>
    public static RateLimitPartition<string> PerMinute(string who, int times) =>
        RateLimitPartition.GetSlidingWindowLimiter(
            who,
            _ => new SlidingWindowRateLimiterOptions
            {
                PermitLimit = times,
                Window = Window,
                SegmentsPerWindow = 6,
                QueueLimit = 0,
            }
        );
}
