namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Latitudes and longitudes as people and recorders write them: decimal degrees; degrees, minutes and seconds with any signs between;
/// ddmm.mmmm packed as NMEA packs it; with a sign or a hemisphere letter.
/// </summary>
internal static class CsvPositions
{
    /// <summary>Reads one coordinate. Degrees have three digits at most, so a number with more before its point is packed.</summary>
    public static bool TryParse(ReadOnlySpan<char> text, ReadOnlySpan<char> hemisphere, char point, out double deg)
    {
        deg = double.NaN;
        var side = hemisphere.IsEmpty ? 0 : Side(hemisphere);
        if (!DecimalText.TryParse(text, out var value, point) && !TryParseParts(text, point, ref side, out value))
            return false;
        if (WholeDigits(text) > 3)
            value = Unpacked(value);
        deg = side != 0 ? Math.Abs(value) * side : value;
        return true;
    }

    private static bool TryParseParts(ReadOnlySpan<char> text, char point, ref int side, out double value)
    {
        value = double.NaN;
        text = text.Trim();
        if (text.Length is 0 or > 40)
            return false;
        if (Side(text[..1]) is var before and not 0)
        {
            side = before;
            text = text[1..];
        }
        else if (Side(text[^1..]) is var after and not 0)
        {
            side = after;
            text = text[..^1];
        }
        text = text.Trim();
        var negative = text.StartsWith('-');
        if (negative)
            text = text[1..];
        double sum = 0,
            unit = 1;
        while (text.Length > 0)
        {
            var length = 0;
            while (length < text.Length && (char.IsAsciiDigit(text[length]) || text[length] == point))
                length++;
            if (length == 0 || unit < 1 / 3600.0 || !DecimalText.TryParse(text[..length], out var part, point) || (unit < 1 && part > 60))
                return false;
            sum += part * unit;
            unit /= 60;
            text = text[length..];
            var gap = 0;
            while (
                gap < text.Length
                && text[gap] is ' ' or ':' or '\u00B0' or '\u00BA' or '\uFFFD' or '\'' or '"' or '\u2032' or '\u2033' or 'd' or 'm'
            )
            {
                gap++;
            }

            if (gap == 0 && text.Length > 0)
                return false;
            text = text[gap..];
        }
        if (unit == 1)
            return false;
        value = negative ? -sum : sum;
        return true;
    }

    /// <summary>Reads ddmm.mmmm with its hemisphere in a field of its own, as NMEA has them.</summary>
    public static bool TryParsePacked(ReadOnlySpan<char> text, ReadOnlySpan<char> hemisphere, out double deg)
    {
        deg = double.NaN;
        var side = Side(hemisphere);
        if (side == 0 || !DecimalText.TryParse(text, out var packed) || packed < 0)
            return false;
        deg = Unpacked(packed) * side;
        return double.IsFinite(deg);
    }

    /// <summary>4807.038 is 48 degrees 7.038 minutes; 4760.000 is 49 degrees, rounded.</summary>
    public static double Unpacked(double packed)
    {
        var degrees = Math.Truncate(packed / 100);
        var minutes = packed - degrees * 100;
        return Math.Abs(minutes) <= 60 ? degrees + minutes / 60 : double.NaN;
    }

    /// <summary>Length of the first run of digits.</summary>
    private static int WholeDigits(ReadOnlySpan<char> text)
    {
        var start = text.IndexOfAnyInRange('0', '9');
        var end = start;
        while (end >= 0 && end < text.Length && char.IsAsciiDigit(text[end]))
            end++;
        return end - start;
    }

    private static int Side(ReadOnlySpan<char> text) =>
        text.Trim() is [var letter]
            ? letter switch
            {
                'N' or 'n' or 'E' or 'e' => 1,
                'S' or 's' or 'W' or 'w' => -1,
                _ => 0,
            }
            : 0;
}
