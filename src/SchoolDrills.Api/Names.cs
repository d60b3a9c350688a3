namespace SchoolDrills.Api;

/// <summary>Names of people, schools, tokens and files, as they are kept and shown.</summary>
internal static class Names
{
    /// <summary>
    /// Without what is not seen but changes how the rest is shown: control characters, and marks that turn the direction of writing, by
    /// which "gpx.exe" could be made to look like "exe.gpx". Names of right-to-left scripts read right without such marks.
    /// </summary>
    public static string Plain(string name) => new([.. name.Where(c => !char.IsControl(c) && !TurnsDirection(c))]);

    private static bool TurnsDirection(char c) =>
        c is '\u061C' or '\u200E' or '\u200F' or (>= '\u202A' and <= '\u202E') or (>= '\u2066' and <= '\u2069');
}
