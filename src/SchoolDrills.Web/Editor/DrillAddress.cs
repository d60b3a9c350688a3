using System.Globalization;
using System.Text;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Web.Editor;

/// <summary>How a drill begins.</summary>
internal static class DrillAddress
{
    public const string UsualStandard = "instrument-rating";

    private const int MostLetters = 64;

    /// <summary>A title as it stands in addresses: "Box, step 4" is box-step-4.</summary>
    public static string Of(string title)
    {
        var slug = new StringBuilder();
        foreach (var letter in title.Normalize(NormalizationForm.FormD).ToLower(CultureInfo.InvariantCulture))
        {
            if (char.IsAsciiLetterOrDigit(letter))
                slug.Append(letter);
            else if (slug.Length > 0 && slug[^1] != '-' && CharUnicodeInfo.GetUnicodeCategory(letter) != UnicodeCategory.NonSpacingMark)
                slug.Append('-');
        }

        return slug.ToString(0, Math.Min(slug.Length, MostLetters)).TrimEnd('-');
    }

    /// <summary>An empty page: entry numbers as in the catalogue, everything else to be written.</summary>
    public static DrillTemplate Empty(string standardSlug) =>
        new()
        {
            Slug = "",
            Title = "",
            Purpose = "",
            StandardSlug = standardSlug,
            Entry = new DrillEntry(360, 3000, 90),
            Segments = [],
        };
}
