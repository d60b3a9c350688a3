namespace SchoolDrills.Engine.Tracks;

/// <summary>Formats that are not text, known by the bytes they begin with, so that a refusal can name them.</summary>
internal static class BinaryFormats
{
    private static readonly (string Name, int At, byte[] Bytes)[] Signatures =
    [
        ("a FIT recording", 8, ".FIT"u8.ToArray()),
        ("a ULog recording", 0, [0x55, 0x4C, 0x6F, 0x67, 0x01, 0x12, 0x35]),
        ("a binary flight log", 0, [0xA3, 0x95, 0x80]),
        ("a PDF document", 0, "%PDF-"u8.ToArray()),
        ("a JPEG picture", 0, [0xFF, 0xD8, 0xFF]),
        ("a PNG picture", 0, [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]),
        ("a film or picture", 4, "ftyp"u8.ToArray()),
        ("a database", 0, "SQLite format 3\0"u8.ToArray()),
        ("an old spreadsheet or document", 0, [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1]),
        ("a 7z archive", 0, [0x37, 0x7A, 0xBC, 0xAF, 0x27, 0x1C]),
        ("a RAR archive", 0, "Rar!\x1A\x07"u8.ToArray()),
    ];

    /// <summary>What the bytes are, with its article; null for none of the known formats.</summary>
    public static string? NameOf(ReadOnlySpan<byte> head)
    {
        foreach (var (name, at, bytes) in Signatures)
        {
            if (head.Length >= at + bytes.Length && head.Slice(at, bytes.Length).SequenceEqual(bytes))
                return name;
        }
        return null;
    }
}
