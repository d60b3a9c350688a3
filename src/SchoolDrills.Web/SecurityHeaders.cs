using System.Net;
using System.Security.Cryptography;
using Microsoft.AspNetCore.HttpOverrides;
using SchoolDrills.Api.Data.Postgres;

namespace SchoolDrills.Web;

/// <summary>What every answer tells the browser not to allow, and whose word about the visitor's address is believed.</summary>
public static class SecurityHeaders
{
    private const string NonceKey = "csp-nonce";

    /// <summary>Marks the one script that a page carries inside: the import map.</summary>
    public static string NonceOf(HttpContext http) =>
        (string)(http.Items[NonceKey] ??= Convert.ToBase64String(RandomNumberGenerator.GetBytes(18)));

    public static WebApplication UseSecurityHeaders(this WebApplication app)
    {
        app.Use(
            (http, next) =>
            {
                http.Response.OnStarting(() =>
                {
                    Write(http);
                    return Task.CompletedTask;
                });
                return next(http);
            }
        );
        return app;
    }

    /// <summary>
    /// The addresses of proxies in <c>SCHOOLDRILLS_PROXY</c> (or networks, as 10.0.0.0/8) may say who the visitor is and that he came
    /// by TLS; from anybody else such headers are noise.
    /// </summary>
    /// <exception cref="StartupRefusedException">An entry is neither address nor network.</exception>
    public static WebApplicationBuilder TrustProxyAsConfigured(this WebApplicationBuilder builder)
    {
        var proxies = (builder.Configuration["SCHOOLDRILLS_PROXY"] ?? "").Split([',', ' '], StringSplitOptions.RemoveEmptyEntries);
        builder.Services.Configure<ForwardedHeadersOptions>(forwarded =>
        {
            if (proxies.Length == 0)
                return;
            forwarded.ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto;
            forwarded.KnownProxies.Clear();
            forwarded.KnownIPNetworks.Clear();
            foreach (var proxy in proxies)
            {
                if (IPAddress.TryParse(proxy, out var address))
                    forwarded.KnownProxies.Add(address);
                else if (System.Net.IPNetwork.TryParse(proxy, out var network))
                    forwarded.KnownIPNetworks.Add(network);
            }
        });
        return proxies.FirstOrDefault(p => !IPAddress.TryParse(p, out _) && !System.Net.IPNetwork.TryParse(p, out _)) is { } unknown
            ? throw new StartupRefusedException($"SCHOOLDRILLS_PROXY: '{unknown}' is neither an address nor a network such as 10.0.0.0/8.")
            : builder;
    }

    private static void Write(HttpContext http)
    {
        var headers = http.Response.Headers;
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(), microphone=(), payment=(), usb=()";
        headers.XFrameOptions = "DENY";
        headers.ContentSecurityPolicy = Policy(http);
        // Personal data is nobody's to keep on the way; what may be kept says so itself.
        if (headers.CacheControl.Count == 0)
            headers.CacheControl = "no-store";
    }

    /// <summary>
    /// No script but our own files and the import map. Styles may stand inside: the component library writes its theme as a style element
    /// and positions as attributes, and our ribbons and drawings carry their widths that way. The readable reference of the API
    /// starts itself by a script inside; nobody's words are on that page. The cockpit page runs as WebAssembly, which a browser compiles
    /// only with leave.
    /// </summary>
    private static string Policy(HttpContext http)
    {
        var isReference = http.Request.Path.StartsWithSegments("/api/docs");
        var scripts =
            isReference ? "'self' 'unsafe-inline'"
            : http.Request.Path.StartsWithSegments("/cockpit") ? "'self' 'wasm-unsafe-eval'"
            : $"'self' 'nonce-{NonceOf(http)}'";
        return $"default-src 'self'; script-src {scripts}; style-src 'self' 'unsafe-inline'; img-src 'self' data:; "
            + "font-src 'self' data:; object-src 'none'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'";
    }
}
