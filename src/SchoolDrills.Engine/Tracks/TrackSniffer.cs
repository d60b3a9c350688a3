namespace SchoolDrills.Engine.Tracks;

internal enum SniffedFormat
{
    Unknown,
    Xml,
    Igc,
    Nmea,

    /// <summary>Text that may be CSV.</summary>
    Text,
}

/// <summary>Recognizes a format by the first lines of a file, never by its name.</summary>
internal static class TrackSniffer
{
    public static SniffedFormat Recognize(string head)
    {
        var text = head.AsSpan().TrimStart();
        if (IsBinary(text))
            return CountNmea(text) > 1 ? SniffedFormat.Nmea : SniffedFormat.Unknown;
        if (text.StartsWith('<'))
            return SniffedFormat.Xml;
        var (igc, nmea, lines) = (0, 0, 0);
        foreach (var line in text.EnumerateLines())
        {
            if (line.IsEmpty)
                continue;
            if (++lines > ReaderLimits.FormatLines)
                break;
            if (IsIgc(line))
                igc++;
            else if (IsNmea(line))
                nmea++;
        }
        // Logs can begin with other lines, or in the middle of a sentence.
        return nmea > igc ? SniffedFormat.Nmea
            : igc > 0 ? SniffedFormat.Igc
            : SniffedFormat.Text;
    }

    /// <summary>Sentences among a receiver's binary messages.</summary>
    private static int CountNmea(ReadOnlySpan<char> text)
    {
        var count = 0;
        foreach (var line in text.EnumerateLines())
            count += IsNmea(line) ? 1 : 0;
        return count;
    }

    /// <summary>Text has almost no control characters and almost no invalid ones.</summary>
    private static bool IsBinary(ReadOnlySpan<char> text)
    {
        var odd = 0;
        foreach (var c in text)
        {
            if (c is '\uFFFD' or < ' ' and not ('\t' or '\n' or '\r'))
                odd++;
        }
        return odd * 50 > text.Length;
    }

    private static bool IsIgc(ReadOnlySpan<char> line) =>
        line.StartsWith("HFDTE")
        || line.StartsWith("HODTE")
        || line.StartsWith("HPDTE")
        || line.Length >= 35 && line[0] == 'B' && line[14] is 'N' or 'S' && line[23] is 'E' or 'W' && line[24] is 'A' or 'V';

    private static bool IsNmea(ReadOnlySpan<char> line)
    {
        for (var start = line.IndexOf('$'); start >= 0; )
        {
            line = line[(start + 1)..];
            if (BeginsSentence(line))
                return true;
            start = line.IndexOf('$');
        }
        return false;
    }

    /// <summary>Whether a text behind a $ begins as a sentence: five capitals or digits and a comma.</summary>
    public static bool BeginsSentence(ReadOnlySpan<char> text)
    {
        if (text.Length < 6 || text[5] != ',')
            return false;
        foreach (var c in text[..5])
        {
            if (!char.IsAsciiLetterUpper(c) && !char.IsAsciiDigit(c))
                return false;
        }
        return true;
    }
}
