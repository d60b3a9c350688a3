using SchoolDrills.Contracts;

namespace SchoolDrills.Web.People;

/// <summary>A row of a list to be invited, as it stands in its fields.</summary>
public sealed class PersonDraft
{
    private static readonly Dictionary<string, string> Words = new(StringComparer.OrdinalIgnoreCase)
    {
        ["student"] = Roles.Student,
        ["students"] = Roles.Student,
        ["trainee"] = Roles.Student,
        ["instructor"] = Roles.Instructor,
        ["instructors"] = Roles.Instructor,
        ["flight instructor"] = Roles.Instructor,
        ["chief"] = Roles.Chief,
        ["chief instructor"] = Roles.Chief,
        ["chief flight instructor"] = Roles.Chief,
    };

    private static readonly string[] Between = ["/", "+", "&", "|", ",", ";", " and "];

    public string Name { get; set; } = "";

    public string Email { get; set; } = "";

    /// <summary>One role, or several with commas between; what is no role stays as it was written.</summary>
    public string Role { get; set; } = Roles.Student;

    /// <summary>Why this row cannot be invited; null where it can.</summary>
    public string? Problem { get; set; }

    public InvitePerson Person => new(Name.Trim(), Email.Trim(), [.. Parts(Role)]);

    /// <summary>Whether every word of a text is a role.</summary>
    public static bool IsRole(string text) =>
        Parts(text).ToList() is { Count: > 0 } parts && parts.TrueForAll(p => p is Roles.Student or Roles.Instructor or Roles.Chief);

    /// <summary>A text as roles with commas between.</summary>
    public static string RoleOf(string text) => string.Join(", ", Parts(text));

    private static IEnumerable<string> Parts(string text)
    {
        var whole = text.Trim();
        if (Words.TryGetValue(whole, out var one))
            return [one];
        var parts = whole.Split(Between, StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        // Two cells of roles come as words with a space between.
        var single = parts.SelectMany(p =>
            Words.ContainsKey(p) ? [p]
            : p.Split(' ') is var each && each.All(Words.ContainsKey) ? each
            : [p]
        );
        return single.Select(p => Words.GetValueOrDefault(p, p)).Distinct();
    }
}
