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

/// <summary>Tells a format by the first lines of a file; its name says nothing.</summary>
internal static class TrackSniffer
{
    private const int LinesLookedAt = 100;

    public static SniffedFormat Tell(string head)
    {
        var text = head.AsSpan().TrimStart();
        if (IsBinary(text))
            return SniffedFormat.Unknown;
        if (text.StartsWith('<'))
            return SniffedFormat.Xml;
        var (igc, nmea, lines) = (0, 0, 0);
        foreach (var line in text.EnumerateLines())
        {
            if (line.IsEmpty)
                continue;
            if (++lines > LinesLookedAt)
                break;
            if (IsIgc(line))
                igc++;
            else if (IsNmea(line))
                nmea++;
        }
        // Logs can begin with other things, or in the middle of a sentence.
        return nmea > igc ? SniffedFormat.Nmea
            : igc > 0 ? SniffedFormat.Igc
            : SniffedFormat.Text;
    }

    /// <summary>Text has next to no control characters and next to nothing that is no character at all.</summary>
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
        var start = line.IndexOf('$');
        if (start < 0 || line.Length < start + 7 || line[start + 6] != ',')
            return false;
        foreach (var c in line.Slice(start + 1, 5))
        {
            if (!char.IsAsciiLetterUpper(c) && !char.IsAsciiDigit(c))
                return false;
        }
        return true;
    }
}
