using System.Globalization;

namespace SchoolDrills.Engine.Tracks;

/// <summary>Text of a file as it is shown to a person: nothing in it acts on a terminal or turns the direction of writing.</summary>
internal static class ShownText
{
    /// <summary>The text with a blank for each control character, and without characters that only direct writing.</summary>
    public static string Clean(string text)
    {
        if (!text.Any(c => char.IsControl(c) || IsMark(c)))
            return text;
        return string.Concat(text.Where(c => !IsMark(c)).Select(c => char.IsControl(c) ? ' ' : c)).Trim();
    }

    /// <summary>The beginning of a clean text.</summary>
    public static string Cut(string text, int length) => text.Length > length ? text[..length] : text;

    private static bool IsMark(char c) =>
        char.GetUnicodeCategory(c) is UnicodeCategory.Format or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator;
}
