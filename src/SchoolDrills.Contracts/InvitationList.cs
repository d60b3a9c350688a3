namespace SchoolDrills.Contracts;

/// <summary>What is wrong with a list of people to invite, row by row. The page asks before it sends, the server before it
/// stores.</summary>
public static class InvitationList
{
    /// <summary>People invited at once.</summary>
    public const int Most = 500;

    private const int LongestName = 200;

    /// <summary>One sentence for each row that cannot be invited, by its index.</summary>
    /// <param name="taken">Addresses of the school's accounts, in the form of <see cref="EmailAddress.Normalize"/>.</param>
    public static IReadOnlyDictionary<int, string> ProblemsOf(IReadOnlyList<InvitePerson?> people, IReadOnlySet<string> taken)
    {
        var problems = new Dictionary<int, string>();
        var rows = new Dictionary<string, int>();
        foreach (var (i, person) in people.Index())
        {
            if (ProblemOf(person, i, taken, rows) is { } problem)
                problems[i] = problem;
        }

        return problems;
    }

    private static string? ProblemOf(InvitePerson? person, int index, IReadOnlySet<string> taken, Dictionary<string, int> rows)
    {
        if (person is null)
            return "There is nobody in this row.";
        var email = person.Email?.Trim() ?? "";
        if (email.Length == 0)
            return "The email address is missing.";
        if (!EmailAddress.IsPlausible(email))
            return $"“{Start(email)}” is not an email address.";
        var address = EmailAddress.Normalize(email);
        if (taken.Contains(address))
            return $"{email} has an account at this school already: look under People.";
        if (!rows.TryAdd(address, index))
            return $"This address is in row {rows[address] + 1} already.";
        if (string.IsNullOrWhiteSpace(person.DisplayName))
            return "The name is missing.";
        if (person.DisplayName.Trim().Length > LongestName || person.DisplayName.Any(char.IsControl))
            return $"The name is longer than {LongestName} characters or holds a control character.";
        if (person.Roles is null or { Count: 0 })
            return "A role is missing: student, instructor or chief.";
        if (person.Roles.FirstOrDefault(r => r is not (Roles.Student or Roles.Instructor or Roles.Chief)) is { } unknown)
            return $"“{Start(unknown)}” is not a role: a role is student, instructor or chief.";
        return index >= Most ? $"Only {Most} people can be invited at once: invite this one with the next list." : null;
    }

    private static string Start(string text) => text.Length > 60 ? text[..60] + "…" : text;
}
