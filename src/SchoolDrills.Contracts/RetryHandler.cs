using System.Net;

namespace SchoolDrills.Contracts;

/// <summary>How long a call is tried for.</summary>
/// <param name="First">Pause before the second try; each further one is twice as long.</param>
/// <param name="Longest">The longest pause, unless the server asks for more.</param>
/// <param name="InAll">No try is begun later than this after the first.</param>
public sealed record RetryPauses(TimeSpan First, TimeSpan Longest, TimeSpan InAll)
{
    public static RetryPauses Usual { get; } = new(TimeSpan.FromSeconds(0.5), TimeSpan.FromSeconds(8), TimeSpan.FromSeconds(30));
}

/// <summary>
/// Sends again what may be sent twice where the server is away or busy: reading, and what the client has marked because the server
/// knows it when it comes again (<see cref="Repeatable"/>). Anything else is sent once: whether it was done is for a person to look up.
/// </summary>
/// <remarks>
/// Put it before the handler that connects. The limit of <see cref="HttpClient.Timeout"/> is for all tries together. An answer that
/// breaks off after its headers is the caller's to ask for again.
/// </remarks>
public sealed class RetryHandler(RetryPauses? pauses = null, TimeProvider? clock = null) : DelegatingHandler
{
    /// <summary>Marks a request that may be sent again although it changes something.</summary>
    public static readonly HttpRequestOptionsKey<bool> Repeatable = new("SchoolDrills.Repeatable");

    private readonly RetryPauses pauses = pauses ?? RetryPauses.Usual;
    private readonly TimeProvider clock = clock ?? TimeProvider.System;

    protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        if (!MayRepeat(request))
            return await base.SendAsync(request, cancellationToken);
        var start = clock.GetTimestamp();
        for (var pause = pauses.First; ; pause = Shorter(pause * 2, pauses.Longest))
        {
            HttpResponseMessage? answer = null;
            // Between half of the pause and all of it: clients that failed together do not come back together.
            var wait = pause * (0.5 + Random.Shared.NextDouble() / 2);
            try
            {
                answer = await base.SendAsync(request, cancellationToken);
                if (!IsPassing(answer.StatusCode))
                    return answer;
                if (AskedWait(answer) is { } asked && asked > TimeSpan.Zero)
                    wait = asked + pauses.First * Random.Shared.NextDouble();
            }
            catch (HttpRequestException e) when (IsPassing(e) && IsInTime(start, wait))
            {
                // Refused or broken off: the next try tells more.
            }

            if (answer is not null && !IsInTime(start, wait))
                return answer;
            answer?.Dispose();
            await Task.Delay(wait, clock, cancellationToken);
        }
    }

    private bool IsInTime(long start, TimeSpan wait) => clock.GetElapsedTime(start) + wait <= pauses.InAll;

    private static bool MayRepeat(HttpRequestMessage request) =>
        request.Method == HttpMethod.Get
        || request.Method == HttpMethod.Head
        || request.Options.TryGetValue(Repeatable, out var repeatable) && repeatable;

    private static bool IsPassing(HttpStatusCode status) =>
        status
            is HttpStatusCode.TooManyRequests
                or HttpStatusCode.BadGateway
                or HttpStatusCode.ServiceUnavailable
                or HttpStatusCode.GatewayTimeout;

    /// <summary>A name that is wrong or a certificate that is not trusted stays so.</summary>
    private static bool IsPassing(HttpRequestException e) =>
        e.HttpRequestError is HttpRequestError.ConnectionError or HttpRequestError.ResponseEnded
        || e is { HttpRequestError: HttpRequestError.Unknown, InnerException: IOException };

    private TimeSpan? AskedWait(HttpResponseMessage answer) =>
        answer.Headers.RetryAfter switch
        {
            { Delta: { } delta } => delta,
            { Date: { } date } => date - clock.GetUtcNow(),
            _ => null,
        };

    private static TimeSpan Shorter(TimeSpan one, TimeSpan other) => one < other ? one : other;
}
