using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.RateLimiting;

namespace SchoolDrills.Api;

/// <summary>
/// How often one address may guess wrong: at passwords, codes and links. Only failures count, so a whole school may sign in from behind
/// one address.
/// </summary>
internal sealed class GuessLimit(RequestDelegate next)
{
    private const int FailuresPerMinute = 60;

    private readonly PartitionedRateLimiter<string> failures = PartitionedRateLimiter.Create<string, string>(address =>
        RateLimits.PerMinute(address, FailuresPerMinute)
    );

    public async Task InvokeAsync(HttpContext http)
    {
        if (http.GetEndpoint()?.Metadata.GetMetadata<EnableRateLimitingAttribute>()?.PolicyName != RateLimits.SignIn)
        {
            await next(http);
            return;
        }

        var address = RateLimits.AddressOf(http);
        if (failures.GetStatistics(address)?.CurrentAvailablePermits == 0)
        {
            await RateLimits.RefuseAsync(http, RateLimits.Window);
            return;
        }

        await next(http);
        if (Failed(http.Response))
            failures.AttemptAcquire(address).Dispose();
    }

    /// <summary>A refusal, or a form that is sent back with what went wrong.</summary>
    private static bool Failed(HttpResponse answer) =>
        answer.StatusCode is >= 400 and < 500 and not StatusCodes.Status429TooManyRequests
        || answer.Headers.Location.ToString().Contains("failed=", StringComparison.Ordinal);
}
