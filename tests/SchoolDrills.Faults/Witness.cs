using System.Globalization;
using System.Net;
using System.Text.Json;

namespace SchoolDrills.Faults;

/// <summary>Sees every try of the client, and that each refusal says what to do.</summary>
internal sealed class Witness(Ledger ledger) : DelegatingHandler
{
    private static readonly HttpRequestOptionsKey<bool> SentBefore = new("sent before");

    protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        if (request.Options.TryGetValue(SentBefore, out var before) && before)
            ledger.SendAgain();
        request.Options.Set(SentBefore, true);
        HttpResponseMessage answer;
        try
        {
            answer = await base.SendAsync(request, cancellationToken);
        }
        catch (HttpRequestException)
        {
            ledger.Break();
            throw;
        }

        if (answer.IsSuccessStatusCode)
            return answer;
        await answer.Content.LoadIntoBufferAsync(cancellationToken);
        var body = await answer.Content.ReadAsStringAsync(cancellationToken);
        var status = (int)answer.StatusCode;
        ledger.Refuse(string.Create(CultureInfo.InvariantCulture, $"{status} {TypeOf(body)}"));
        if (!SaysWhatToDo(answer, body))
        {
            var waits = answer.Headers.RetryAfter?.ToString() ?? "none";
            ledger.Unclear.Add(
                string.Create(CultureInfo.InvariantCulture, $"{request.Method} {request.RequestUri?.AbsolutePath}: {status} {waits} {body}")
            );
        }

        return answer;
    }

    /// <summary>A sentence, and where it will pass by itself, when; none of these faults is one that the program may not know.</summary>
    private static bool SaysWhatToDo(HttpResponseMessage answer, string body) =>
        DetailOf(body) is { Length: > 0 }
        && answer.StatusCode switch
        {
            HttpStatusCode.InternalServerError => false,
            HttpStatusCode.TooManyRequests
            or HttpStatusCode.BadGateway
            or HttpStatusCode.ServiceUnavailable
            or HttpStatusCode.GatewayTimeout => answer.Headers.RetryAfter is not null,
            _ => true,
        };

    private static string TypeOf(string body) => TextOf(body, "type")?.Split('/')[^1] ?? "";

    private static string? DetailOf(string body) => TextOf(body, "detail");

    private static string? TextOf(string body, string name)
    {
        try
        {
            using var json = JsonDocument.Parse(body);
            return json.RootElement.TryGetProperty(name, out var text) ? text.GetString() : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
