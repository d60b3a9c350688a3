namespace SchoolDrills.Web.People;

/// <summary>Roles and states of people, in words.</summary>
public static class PeopleWords
{
    public static string Role(string role) =>
        role switch
        {
            Contracts.Roles.Student => T["student | in a sentence"],
            Contracts.Roles.Instructor => T["instructor | in a sentence"],
            Contracts.Roles.Chief => T["chief"],
            _ => role,
        };

    public static string Roles(IEnumerable<string> roles) => string.Join(", ", roles.Select(Role));

    public static string State(string state) =>
        state switch
        {
            "active" => T["active"],
            "invited" => T["invited, not yet signed in"],
            "closed" => T["closed"],
            "erased" => T["erased"],
            _ => state,
        };
}
