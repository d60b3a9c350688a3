using Microsoft.AspNetCore.Http;

namespace SchoolDrills.Api.Watching;

/// <summary>Each answer says the number of its trace, by which its lines in the log are found.</summary>
internal sealed class RequestNumber(RequestDelegate next)
{
    public const string Header = "X-Request-Id";

    public Task InvokeAsync(HttpContext http)
    {
        // As the answer starts, since a fault clears what was set before.
        if (Traces.Number is { } number)
        {
            http.Response.OnStarting(() =>
            {
                http.Response.Headers[Header] = number;
                return Task.CompletedTask;
            });
        }

        return next(http);
    }
}
