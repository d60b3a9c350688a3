using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;

namespace SchoolDrills.Api.Access;

/// <summary>
/// A browser sends the pages' cookie along with whatever a page of another port or subdomain makes it send. What changes something by
/// cookie is therefore taken from our own pages alone, as the browser itself says whose they are:
/// <list type="bullet">
/// <item>To the API a cookie counts only where the browser says so. One that says nothing is no browser of today but a program, and
/// programs have tokens.</item>
/// <item>Forms and the pages' own connection are refused only where the browser names another place: forms carry an antiforgery token
/// besides, and over plain HTTP, with no referrer, a browser says nothing of where a form was.</item>
/// <item>What a phone shares comes from no page. It is set aside, and its owner asked (<c>/share</c>).</item>
/// </list>
/// </summary>
internal sealed class SameOrigin(RequestDelegate next)
{
    private enum Source
    {
        Here,
        Elsewhere,
        Unsaid,
    }

    public Task InvokeAsync(HttpContext http)
    {
        var request = http.Request;
        // The connection opens with a GET, over which everything is then done.
        var isConnection = request.Path.StartsWithSegments("/_blazor");
        if (!isConnection && !MayChange(request.Method) || request.Path.Equals("/share", StringComparison.OrdinalIgnoreCase))
            return next(http);
        var source = SourceOf(request);
        var isRefused = request.Path.StartsWithSegments("/api") ? source != Source.Here && IsByCookie(http) : source == Source.Elsewhere;
        return isRefused ? Problems.FromElsewhere().ExecuteAsync(http) : next(http);
    }

    /// <summary>By the scheme that read the request: the pages' own tokens carry the identity that a cookie made.</summary>
    private static bool IsByCookie(HttpContext http) =>
        http.Features.Get<IAuthenticateResultFeature>()?.AuthenticateResult?.Ticket?.AuthenticationScheme
        == IdentityConstants.ApplicationScheme;

    private static bool MayChange(string method) =>
        !(HttpMethods.IsGet(method) || HttpMethods.IsHead(method) || HttpMethods.IsOptions(method) || HttpMethods.IsTrace(method));

    private static Source SourceOf(HttpRequest request)
    {
        // No page can set either header. "none" is the person's own doing: an address typed, a bookmark.
        if (request.Headers["Sec-Fetch-Site"] is [{ Length: > 0 } site])
            return site is "same-origin" or "none" ? Source.Here : Source.Elsewhere;
        if (request.Headers["Origin"] is not [{ Length: > 0 } said] || said == "null")
            return Source.Unsaid;
        return
            Uri.TryCreate(said, UriKind.Absolute, out var origin)
            && Uri.TryCreate($"{origin.Scheme}://{request.Host}", UriKind.Absolute, out var here)
            && origin.Authority.Equals(here.Authority, StringComparison.OrdinalIgnoreCase)
            // Behind a proxy that nobody named, TLS looks like plain HTTP; the other way round it is a forged page.
            && (origin.Scheme == Uri.UriSchemeHttps || !request.IsHttps)
            ? Source.Here
            : Source.Elsewhere;
    }
}
