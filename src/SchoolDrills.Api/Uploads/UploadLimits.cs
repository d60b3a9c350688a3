using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Scoring;

namespace SchoolDrills.Api.Uploads;

/// <summary>How much may be sent: at once, by a person and to a host, and by a person in a day.</summary>
internal static class UploadLimits
{
    public const int AtOnceByPerson = 4,
        WaitingByPerson = 40,
        AtOnceByHost = 32,
        WaitingByHost = 400,
        AttemptsADay = 500;

    public const long BytesADay = 2L << 30;

    private static readonly TimeSpan Day = TimeSpan.FromDays(1);

    /// <summary>Marks the endpoints that take recordings: room for the file and its fields; the file has a limit of its own.</summary>
    public static readonly IRequestSizeLimitMetadata Body = new SizeLimit(AttemptScoring.MaxRawBytes + (4 << 20));

    public static bool AreFor(HttpContext http) => http.GetEndpoint()?.Metadata.GetMetadata<IRequestSizeLimitMetadata>() == Body;

    /// <summary>
    /// Uploads wait for their turn, bodies unread, before any is refused: a person's among the person's own first, so that nobody's
    /// queue stands in the way of others.
    /// </summary>
    public static PartitionedRateLimiter<HttpContext> AtOnce() =>
        PartitionedRateLimiter.CreateChained(
            PartitionedRateLimiter.Create<HttpContext, string>(http =>
                AreFor(http)
                    ? Concurrent(
                        http.Features.Get<CurrentPerson>()?.Id.ToString() ?? RateLimits.AddressOf(http),
                        AtOnceByPerson,
                        WaitingByPerson
                    )
                    : RateLimitPartition.GetNoLimiter("")
            ),
            PartitionedRateLimiter.Create<HttpContext, string>(http =>
                AreFor(http) ? Concurrent("host", AtOnceByHost, WaitingByHost) : RateLimitPartition.GetNoLimiter("")
            )
        );

    /// <summary>Why no more is taken from this person today; null where there is room.</summary>
    public static async Task<ProblemHttpResult?> SpentAsync(
        CurrentPerson me,
        SchoolDrillsDbContext db,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var since = now - Day;
        var sent = await db
            .Attempts.Where(a => a.UploadedAtUtc > since && a.UploadedById == me.Id)
            .GroupBy(_ => 1)
            .Select(g => new
            {
                Attempts = g.Count(),
                Bytes = g.Sum(a => a.FileBytes),
                First = g.Min(a => a.UploadedAtUtc),
            })
            .SingleOrDefaultAsync(ct);
        if (sent is null || (sent.Attempts < AttemptsADay && sent.Bytes < BytesADay))
            return null;
        var wait = sent.First + Day - now;
        return Problems.TooMany(
            $"You have sent as much as a day takes, {AttemptsADay} recordings or {BytesADay >> 30} GiB: "
                + $"send the rest in {Problems.Wait(wait)}.",
            wait
        );
    }

    private static RateLimitPartition<string> Concurrent(string who, int atOnce, int waiting) =>
        RateLimitPartition.GetConcurrencyLimiter(
            who,
            _ => new ConcurrencyLimiterOptions
            {
                PermitLimit = atOnce,
                QueueLimit = waiting,
                QueueProcessingOrder = QueueProcessingOrder.OldestFirst,
            }
        );

    private sealed record SizeLimit(long Bytes) : IRequestSizeLimitMetadata
    {
        public long? MaxRequestBodySize => Bytes;
    }
}
