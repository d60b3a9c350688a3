using System.Net;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Http;

namespace SchoolDrills.Api.Access;

/// <summary>
/// Passes a visitor's address on when a page calls the API of its own host, so that limits and audit entries are of the visitor and not
/// of the loopback. The header carries a secret of this process; from anybody else it is dropped.
/// </summary>
internal sealed class VisitorAddress : IMiddleware
{
    private const string Header = "SchoolDrills-Visitor";

    private readonly string secret = Convert.ToHexString(RandomNumberGenerator.GetBytes(32));

    /// <summary>Adds the address of the request that a page is made for to one of the page's own calls.</summary>
    /// <param name="call">The page's call.</param>
    /// <param name="page">The visitor's request; null where none is at hand.</param>
    public void PassOn(HttpRequestMessage call, HttpContext? page)
    {
        if (page?.Connection.RemoteIpAddress is { } address)
            call.Headers.Add(Header, $"{secret} {address}");
    }

    /// <summary>Takes the visitor's address for that of the connection where it comes from our own pages.</summary>
    public Task InvokeAsync(HttpContext context, RequestDelegate next)
    {
        var said = context.Request.Headers[Header].ToString();
        context.Request.Headers.Remove(Header);
        if (said.Split(' ') is [var key, var address] && IsSecret(key) && IPAddress.TryParse(address, out var visitor))
            context.Connection.RemoteIpAddress = visitor;
        return next(context);
    }

    private bool IsSecret(string key) =>
        CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(key), Encoding.UTF8.GetBytes(secret));
}
