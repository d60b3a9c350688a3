using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Fleet;

namespace SchoolDrills.Web.Tests.Fleet;

/// <summary>Aircraft profiles: read by all, versioned by the chief.</summary>
public sealed class AircraftPagesTests : PageTest
{
    private static readonly AircraftProfile First = Catalogue.Aircraft.Single(a => a.Slug == "tussock-two");
    private static readonly AircraftProfile Second = First with { ServiceCeilingFt = First.ServiceCeilingFt - 1000 };
    private static readonly DateTimeOffset At = new(2026, 3, 2, 21, 0, 0, TimeSpan.Zero);

    private static readonly IReadOnlyList<AircraftVersion> Versions =
    [
        new(Second, 2, At, "Marama Hollis", null, 3, 12),
        new(First, 1, null, "", null, 0, 0),
    ];

    private static SchoolApi Api(string role) => SchoolApi.For(role).Answer("aircraft/versions", Versions);

    [Fact]
    public void The_list_says_what_is_in_use_and_what_changed_and_only_the_chief_changes()
    {
        var page = Open<AircraftPage>(Api(Roles.Instructor), Roles.Instructor);
        Assert.Contains("version 2", page.Find("h2").TextContent, StringComparison.Ordinal);
        Assert.Contains("In use: 3 open assignments, 12 attempts.", page.Markup, StringComparison.Ordinal);
        Assert.Contains("service ceiling", page.Find("details").TextContent, StringComparison.Ordinal);
        Assert.Empty(page.FindAll("a[href^='/aircraft/new'], .section button"));
    }

    [Fact]
    public void An_empty_profile_is_refused_field_by_field_and_nothing_is_sent()
    {
        var api = Api(Roles.Chief);
        var page = Open<AircraftEditorPage>(api, Roles.Chief, address: "/aircraft/new");
        Button(page, "Add the aircraft").Click();
        Assert.NotEmpty(page.FindAll(".field-note"));
        Assert.DoesNotContain("POST aircraft", api.Asked);
    }

    [Fact]
    public void A_change_is_the_next_version_and_says_what_it_changes()
    {
        var api = Api(Roles.Chief).Answer("aircraft", Second);
        var page = Open<AircraftEditorPage>(api, Roles.Chief, address: "/aircraft/new?from=tussock-two&version=true");
        var ceiling = page.FindAll("label").Single(l => l.TextContent.Contains("Service ceiling", StringComparison.Ordinal));
        ceiling.QuerySelector("input")!.Input("9000");
        page.WaitForAssertion(() => Assert.Contains("service ceiling 9,000 ft instead of", page.Markup, StringComparison.Ordinal));
        Button(page, "Save as the next version").Click();
        page.WaitForAssertion(() => Assert.Contains("9000", api.Sent["POST aircraft"], StringComparison.Ordinal));
    }
}
