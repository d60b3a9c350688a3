namespace SchoolDrills.Web.Editor;

/// <summary>A list typed one item a line.</summary>
internal static class TextLines
{
    public static string[] Of(string? text) =>
        (text ?? "").Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
}
