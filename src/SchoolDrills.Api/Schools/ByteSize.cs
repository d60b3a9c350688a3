using System.Globalization;

namespace SchoolDrills.Api.Schools;

/// <summary>Bytes as an operator writes and reads them: 20GB, a thousand million each.</summary>
internal static class ByteSize
{
    private static readonly (string Unit, long Bytes)[] Units =
    [
        ("TB", 1_000_000_000_000),
        ("GB", 1_000_000_000),
        ("MB", 1_000_000),
        ("kB", 1_000),
    ];

    /// <summary>Null where it is no size of at least a byte.</summary>
    public static long? Read(string text)
    {
        var (digits, unit) = (text.Trim(), 1L);
        foreach (var (word, bytes) in Units)
        {
            if (!digits.EndsWith(word, StringComparison.OrdinalIgnoreCase))
                continue;
            (digits, unit) = (digits[..^word.Length].TrimEnd(), bytes);
            break;
        }

        return
            decimal.TryParse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
            && number * unit is >= 1 and <= 1_000_000_000_000_000m
            ? (long)(number * unit)
            : null;
    }

    /// <summary>20 GB, 1.5 MB, 12 bytes.</summary>
    public static string Text(long bytes)
    {
        foreach (var (word, unit) in Units)
        {
            if (bytes >= unit)
                return string.Create(CultureInfo.InvariantCulture, $"{(decimal)bytes / unit:0.#} {word}");
        }

        return string.Create(CultureInfo.InvariantCulture, $"{bytes} bytes");
    }
}
