using Microsoft.Extensions.Primitives;

namespace SchoolDrills.Web;

/// <summary>
/// Over TLS our cookies have names that begin with <c>__Host-</c>: no subdomain and no plain page can then set one over ours. Over plain
/// HTTP, on loopback, a browser would not take such names. The program knows them without; they are changed here, as they come and go.
/// </summary>
public static class HostCookies
{
    private const string Prefix = "__Host-",
        Ours = "schooldrills";

    public static WebApplication UseHostCookies(this WebApplication app)
    {
        app.Use(
            (http, next) =>
            {
                if (!http.Request.IsHttps)
                    return next(http);
                http.Request.Headers.Cookie = Incoming(http.Request.Headers.Cookie);
                http.Response.OnStarting(() =>
                {
                    http.Response.Headers.SetCookie = new StringValues([.. http.Response.Headers.SetCookie.Select(Outgoing)]);
                    return Task.CompletedTask;
                });
                return next(http);
            }
        );
        return app;
    }

    /// <summary>Ours lose the prefix; what has our names without it is somebody else's doing, or of a time before TLS.</summary>
    private static string Incoming(StringValues headers) =>
        string.Join(
            "; ",
            headers
                .SelectMany(header => (header ?? "").Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
                .Where(cookie => !cookie.StartsWith(Ours, StringComparison.Ordinal))
                .Select(cookie => cookie.StartsWith(Prefix + Ours, StringComparison.Ordinal) ? cookie[Prefix.Length..] : cookie)
        );

    private static string? Outgoing(string? cookie)
    {
        if (cookie?.StartsWith(Ours, StringComparison.Ordinal) is not true)
            return cookie;
        // A cookie taken back needs the mark too, or the browser keeps it.
        var isSecure = cookie.Contains("; secure", StringComparison.OrdinalIgnoreCase);
        return Prefix + cookie + (isSecure ? "" : "; secure");
    }
}
