using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Web.People;
using static SchoolDrills.Web.Tests.SampleSchool;

namespace SchoolDrills.Web.Tests.People;

public sealed class PeoplePageTests : PageTest
{
    private static readonly PersonSummary[] People =
    [
        Person("Ana Active", Roles.Student, "active") with
        {
            SecondFactor = true,
            SignedInAtUtc = Now.AddDays(-1),
        },
        Person("Bea Invited", Roles.Student, "invited"),
        Person("Col Closed", Roles.Instructor, "closed"),
        Person("Dee Active", Roles.Instructor, "active"),
    ];

    [Fact]
    public void A_line_counts_the_states_and_who_has_a_second_step()
    {
        var page = Open<PeoplePage>(Api(), Roles.Chief);
        Assert.Contains(
            "2 active; 1 invited, not yet signed in; 1 closed. Two-step sign-in is on for 1 of 2 active people.",
            page.Markup,
            StringComparison.Ordinal
        );
        var ana = page.FindAll("tbody tr").Single(r => r.TextContent.Contains("Ana", StringComparison.Ordinal)).TextContent;
        Assert.Contains("yesterday", ana, StringComparison.Ordinal);
    }

    [Fact]
    public void Role_and_state_narrow_the_list()
    {
        var page = Open<PeoplePage>(Api(), Roles.Chief);
        Select("Role", Roles.Instructor);
        Assert.Equal(["Col Closed", "Dee Active"], Shown());
        Select("State", "closed");
        Assert.Equal(["Col Closed"], Shown());
        Select("Role", "");
        Select("State", "without-code");
        Assert.Equal(["Dee Active"], Shown());

        void Select(string label, string value) =>
            page.FindAll("label.field")
                .Single(l => l.TextContent.Trim().StartsWith(label, StringComparison.Ordinal))
                .QuerySelector("select")!
                .Change(value);

        IEnumerable<string> Shown() =>
            People.Select(p => p.DisplayName).Where(n => page.Find("tbody").TextContent.Contains(n, StringComparison.Ordinal));
    }

    [Fact]
    public void An_instructor_sees_addresses_and_no_accounts()
    {
        var page = Open<PeoplePage>(Api(), Roles.Instructor);
        Assert.DoesNotContain("Two-step", page.Markup, StringComparison.Ordinal);
        Assert.DoesNotContain("Last signed in", page.Markup, StringComparison.Ordinal);
    }

    private static PersonSummary Person(string name, string role, string state) =>
        new(Guid.NewGuid(), name, $"{name[..3]}@tussockplains.example", [role], state != "closed", state);

    private static SchoolApi Api() => SchoolApi.For(Roles.Chief).Answer<IReadOnlyList<PersonSummary>>("people", People);
}
