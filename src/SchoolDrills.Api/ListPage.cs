using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Extensions;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace SchoolDrills.Api;

/// <summary>
/// A page of a list. Where there is more, the <c>Link</c> header (RFC 8288) has the address of the next: by number, or in lists that
/// grow for years by the last row shown, so that the thousandth page costs as much as the second.
/// </summary>
internal readonly record struct ListPage(int Number, int Size)
{
    /// <summary>Where nothing is asked for: more than most schools have of anything, and an answer of some hundred kilobytes.</summary>
    public const int UsualSize = 200;

    public const int LargestSize = 500;

    /// <summary>
    /// Nobody needs to know how many more there are than this and the page shown; counting five years of them would cost.
    /// </summary>
    public const int MostCounted = 1_000;

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
        Link(http, "page", (Number + 1).ToString(CultureInfo.InvariantCulture));
        return cut[..Size];
    }

    /// <summary>How many there are, counted no further than is of use, and whether there are more.</summary>
    /// <param name="ordered">In the order of an index, along which they are counted.</param>
    public static async Task<(int Total, bool More)> CountAsync<T>(
        IOrderedQueryable<T> ordered,
        int? page,
        int pageSize,
        CancellationToken ct
    )
    {
        var most = ((page ?? 1) * pageSize) + MostCounted;
        var counted = await ordered.Take(most + 1).CountAsync(ct);
        return counted > most ? (most, true) : (counted, false);
    }

    /// <summary>The page without the one more; the next one goes on after its last row.</summary>
    /// <param name="keyOf">By which a row is found again.</param>
    public static IReadOnlyList<T> ShowBefore<T>(List<T> cut, int pageSize, HttpContext http, Func<T, string> keyOf)
    {
        if (cut.Count <= pageSize)
            return cut;
        Link(http, "after", keyOf(cut[pageSize - 1]));
        return cut[..pageSize];
    }

    /// <summary>Names the address of the next page: the same request with this instead of where it began.</summary>
    private static void Link(HttpContext http, string name, string value)
    {
        var request = http.Request;
        var next = new QueryBuilder(request.Query.Where(q => q.Key.ToUpperInvariant() is not ("PAGE" or "AFTER"))) { { name, value } };
        var address = UriHelper.BuildRelative(request.PathBase, request.Path, next.ToQueryString());
        http.Response.Headers.Link = $"<{address}>; rel=\"next\"";
    }
}
