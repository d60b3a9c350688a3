using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Extensions;
using Microsoft.AspNetCore.Http.HttpResults;

namespace SchoolDrills.Api;

/// <summary>
/// A page of a list that is a bare array on the wire: where there is more, the <c>Link</c> header (RFC 8288) has the address of the next.
/// </summary>
internal readonly record struct ListPage(int Number, int Size)
{
    /// <summary>Where nothing is asked for: more than most schools have of anything, and an answer of some hundred kilobytes.</summary>
    public const int UsualSize = 200;

    public const int LargestSize = 500;

    public static ProblemHttpResult? Problem(int? page, int? pageSize = null) =>
        page is < 1 or > 100_000 ? Problems.Invalid("page", "page counts from 1.")
        : pageSize is < 1 or > LargestSize ? Problems.Invalid("page", $"pageSize is between 1 and {LargestSize}.")
        : null;

    public static ListPage Of(int? page, int? pageSize) => new(page ?? 1, pageSize ?? UsualSize);

    /// <summary>The page and one more, which tells whether another follows.</summary>
    /// <param name="ordered">In an order that leaves no two alike.</param>
    public IQueryable<T> Cut<T>(IQueryable<T> ordered) => ordered.Skip((Number - 1) * Size).Take(Size + 1);

    /// <summary>The page without the one more, and the next one's address.</summary>
    public IReadOnlyList<T> Show<T>(List<T> cut, HttpContext http)
    {
        if (cut.Count <= Size)
            return cut;
        var request = http.Request;
        var next = new QueryBuilder(request.Query.Where(q => !q.Key.Equals("page", StringComparison.OrdinalIgnoreCase)))
        {
            { "page", (Number + 1).ToString(CultureInfo.InvariantCulture) },
        };
        var address = UriHelper.BuildRelative(request.PathBase, request.Path, next.ToQueryString());
        http.Response.Headers.Link = $"<{address}>; rel=\"next\"";
        return cut[..Size];
    }
}
