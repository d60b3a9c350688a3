using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Net.Http.Headers;

namespace SchoolDrills.Api;

/// <summary>
/// A body is JSON or a form with files, and says so. Anything else is refused even where nothing would read it: a page elsewhere can
/// make a browser send plain text without asking first.
/// </summary>
internal sealed class RequestBodies(RequestDelegate next)
{
    public Task InvokeAsync(HttpContext http)
    {
        var request = http.Request;
        var hasBody =
            request.ContentLength > 0
            || request.ContentLength is null && http.Features.Get<IHttpRequestBodyDetectionFeature>()?.CanHaveBody is true;
        return
            !hasBody
            || request.HasJsonContentType()
            || MediaTypeHeaderValue.TryParse(request.ContentType, out var type)
                && type.MediaType.Equals("multipart/form-data", StringComparison.OrdinalIgnoreCase)
            ? next(http)
            : TypedResults
                .Problem(
                    Problems.Sentence(StatusCodes.Status415UnsupportedMediaType),
                    statusCode: StatusCodes.Status415UnsupportedMediaType
                )
                .ExecuteAsync(http);
    }
}
