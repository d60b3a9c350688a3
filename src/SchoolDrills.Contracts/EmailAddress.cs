namespace SchoolDrills.Contracts;

/// <summary>Addresses as people sign in with them.</summary>
public static class EmailAddress
{
    public const int Longest = 256;

    /// <summary>The form in which two spellings of one address are the same.</summary>
    public static string Normalize(string address) => address.Trim().Normalize().ToUpperInvariant();

    /// <summary>
    /// One @ with something on either side, and nothing that a mail header could not carry. Whether it exists, mail will tell.
    /// </summary>
    public static bool IsPlausible(string address) =>
        address.Length <= Longest
        && address.IndexOf('@', StringComparison.Ordinal) is > 0 and var at
        && at == address.LastIndexOf('@')
        && at < address.Length - 1
        && !address.Any(c => char.IsWhiteSpace(c) || char.IsControl(c));
}
