namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// What a reader holds in memory at most, and how far it searches; <see cref="TrackReadOptions"/> has the limits of whole recordings.
/// </summary>
internal static class ReaderLimits
{
    /// <summary>Bytes read to recognize the format and to find a CSV header.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int HeadBytes = 64 * 1024;

    /// <summary>Longest line of text, and longest run without markup in XML, bytes.</summary>
    /// <remarks>Basis: common practice: recorders write lines of a few hundred bytes.</remarks>
    public const int LineBytes = 64 * 1024,
        XmlRunBytes = 1024 * 1024;

    /// <summary>Deepest nesting of XML elements.</summary>
    /// <remarks>Basis: common practice: recordings nest a handful deep.</remarks>
    public const int XmlDepth = 64;

    /// <summary>Most entries of a zip file.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int ZipEntries = 1_000;

    /// <summary>Lines in which a format is recognized, and lines in which a CSV header is looked for.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int FormatLines = 100,
        HeaderLines = 50;

    /// <summary>Lines below a CSV header from which dates and separators are recognized.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int SampleLines = 200;

    /// <summary>
    /// Sample values of a column shown to a person, and their longest text, characters; column names in a message, and the longest of them,
    /// characters.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int ShownSamples = 3,
        ShownCharacters = 40,
        ShownNames = 12,
        ShownNameCharacters = 100;
}
