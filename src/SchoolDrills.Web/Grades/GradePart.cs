namespace SchoolDrills.Web.Grades;

/// <summary>What is written about one segment, or about the drill as a whole.</summary>
/// <param name="Grade">Slug of a word of the school's scale; empty for none.</param>
public sealed record GradePart(string Grade = "", string Comment = "")
{
    public static readonly GradePart Empty = new();

    public bool IsEmpty => Grade.Length == 0 && Comment.Length == 0;

    /// <summary>
    /// Merges what was changed here since <paramref name="before"/> into what someone else saved: of two words theirs stays, of two
    /// comments both.
    /// </summary>
    public GradePart MergeInto(GradePart theirs, GradePart before) =>
        new(
            Choose(Grade, before.Grade, theirs.Grade) ?? (theirs.Grade.Length > 0 ? theirs.Grade : Grade),
            Choose(Comment, before.Comment, theirs.Comment) ?? Both(theirs.Comment, Comment)
        );

    /// <summary>Null where both were changed, and differently.</summary>
    private static string? Choose(string mine, string before, string theirs) =>
        mine == before || mine == theirs ? theirs
        : theirs == before ? mine
        : null;

    private static string Both(string theirs, string mine) =>
        mine.Length == 0 || theirs.Contains(mine, StringComparison.Ordinal) ? theirs
        : theirs.Length == 0 ? mine
        : $"{theirs} {mine}";
}
