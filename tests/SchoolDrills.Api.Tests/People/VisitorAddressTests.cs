using System.Net;
using Microsoft.AspNetCore.Http;
using SchoolDrills.Api.Access;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

public sealed class VisitorAddressTests
{
    private static readonly IPAddress Visitor = IPAddress.Parse("203.0.113.7"),
        Loopback = IPAddress.Loopback;

    private readonly VisitorAddress ours = new();

    [Fact]
    public async Task A_page_passes_its_visitors_address_on() => Assert.Equal(Visitor, await ReceivedAsync(ours, PassedOnBy(ours)));

    [Fact]
    public async Task Nobody_else_can_say_whose_address_it_is()
    {
        // Another process, a guess, and no secret at all.
        Assert.Equal(Loopback, await ReceivedAsync(ours, PassedOnBy(new VisitorAddress())));
        foreach (var forged in (string[])["0000 203.0.113.7", "203.0.113.7", " 203.0.113.7", "", PassedOnBy(ours) + "x"])
            Assert.Equal(Loopback, await ReceivedAsync(ours, forged));
    }

    private static string PassedOnBy(VisitorAddress visitors)
    {
        using var call = new HttpRequestMessage();
        var page = new DefaultHttpContext();
        page.Connection.RemoteIpAddress = Visitor;
        visitors.PassOn(call, page);
        return Assert.Single(Assert.Single(call.Headers).Value);
    }

    private static async Task<IPAddress?> ReceivedAsync(VisitorAddress visitors, string header)
    {
        var http = new DefaultHttpContext();
        http.Connection.RemoteIpAddress = Loopback;
        http.Request.Headers["SchoolDrills-Visitor"] = header;
        IPAddress? seen = null;
        await visitors.InvokeAsync(
            http,
            inner =>
            {
                seen = inner.Connection.RemoteIpAddress;
                Assert.False(inner.Request.Headers.ContainsKey("SchoolDrills-Visitor"));
                return Task.CompletedTask;
            }
        );
        return seen;
    }
}
