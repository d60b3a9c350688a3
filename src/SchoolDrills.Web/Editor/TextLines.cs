namespace SchoolDrills.Web.Editor;

/// <summary>Lists as they are typed.</summary>
internal static class TextLines
{
    /// <summary>One item a line.</summary>
    public static string[] Of(string? text) => Split(text, '\n');

    /// <summary>Short items on one line with semicolons between them, or one a line where an item has a semicolon itself.</summary>
    public static string Short(IReadOnlyList<string> items) =>
        string.Join(items.Any(i => i.Contains(';', StringComparison.Ordinal)) ? "\n" : "; ", items);

    public static string[] OfShort(string? text) => Split(text, (text ?? "").Contains('\n', StringComparison.Ordinal) ? '\n' : ';');

    private static string[] Split(string? text, char between) =>
        (text ?? "").Split(between, StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
}
