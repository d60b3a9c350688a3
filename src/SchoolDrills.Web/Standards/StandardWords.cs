using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Standards;

/// <summary>Where an edition stands and what uses it, in words.</summary>
internal static class StandardWords
{
    /// <summary>Empty for the only edition of a standard in force.</summary>
    public static string Standing(StandardEdition edition) =>
        string.Join(
            ", ",
            (
                (string?[])
                    [
                        edition.Edition > 1 || edition.SupersededBy is not null ? T["edition {0}", edition.Edition].Value : null,
                        edition.SupersededBy is not null ? T["superseded"].Value : null,
                        edition.RetiredAtUtc is not null ? T["retired"].Value : null,
                    ]
            ).OfType<string>()
        );

    public static string InUse(StandardEdition edition)
    {
        (int Count, string Counted)[] counts =
        [
            (edition.Drills.Count, Figures.Count(edition.Drills.Count, "drill", "drills")),
            (edition.OpenAssignments, Figures.Count(edition.OpenAssignments, "open assignment", "open assignments")),
            (edition.Attempts, Figures.Count(edition.Attempts, "attempt", "attempts")),
        ];
        string[] uses = [.. counts.Where(u => u.Count > 0).Select(u => u.Counted)];
        return uses.Length == 0 ? T["not in use"] : string.Join(", ", uses);
    }

    /// <summary>Address for a title: letters, digits and hyphens, at most 60 characters.</summary>
    public static string Slug(string title)
    {
        var letters = title.ToLowerInvariant().Select(c => c is >= 'a' and <= 'z' or >= '0' and <= '9' ? c : '-').ToArray();
        var slug = string.Join('-', new string(letters).Split('-', StringSplitOptions.RemoveEmptyEntries));
        return slug.Length <= 60 ? slug : slug[..60].TrimEnd('-');
    }

    /// <summary>The slug, or with the first number that makes it free.</summary>
    public static string Free(string slug, IReadOnlyCollection<string> taken) =>
        Enumerable.Range(1, taken.Count + 1).Select(n => n == 1 ? slug : $"{slug}-{n}").First(s => !taken.Contains(s));
}
