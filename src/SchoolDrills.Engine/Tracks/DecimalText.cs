using System.Globalization;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Decimal numbers as recorders write them. Up to 15 digits the result is exact to the last bit by one division of two exact doubles
/// (Clinger, "How to Read Floating Point Numbers Accurately", 1990); anything longer or with an exponent goes to the runtime.
/// </summary>
internal static class DecimalText
{
    private static readonly double[] PowersOfTen = [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];

    /// <summary>Reads a whole text as one finite number; surrounding blanks are allowed.</summary>
    public static bool TryParse(ReadOnlySpan<char> text, out double value, char point = '.')
    {
        var i = 0;
        var end = text.Length;
        while (i < end && text[i] <= ' ')
            i++;
        while (end > i && text[end - 1] <= ' ')
            end--;
        var start = i;
        var negative = false;
        if (i < end && text[i] is '-' or '+')
            negative = text[i++] == '-';
        long mantissa = 0;
        var digits = 0;
        var pointAt = -1;
        for (; i < end; i++)
        {
            var digit = (uint)(text[i] - '0');
            if (digit <= 9)
            {
                mantissa = mantissa * 10 + digit;
                if (++digits > 15)
                    return TryParseSlowly(text[start..end], out value, point);
            }
            else if (text[i] == point && pointAt < 0)
            {
                pointAt = digits;
            }
            else
            {
                return TryParseSlowly(text[start..end], out value, point);
            }
        }
        if (digits == 0)
        {
            value = double.NaN;
            return false;
        }
        value = pointAt < 0 ? mantissa : mantissa / PowersOfTen[digits - pointAt];
        if (negative)
            value = -value;
        return true;
    }

    /// <summary>Reads a whole text of digits alone.</summary>
    public static bool TryParseDigits(ReadOnlySpan<char> text, out int value)
    {
        value = 0;
        if (text.Length is 0 or > 9)
            return false;
        foreach (var c in text)
        {
            var digit = (uint)(c - '0');
            if (digit > 9)
                return false;
            value = value * 10 + (int)digit;
        }
        return true;
    }

    private static bool TryParseSlowly(ReadOnlySpan<char> text, out double value, char point)
    {
        value = double.NaN;
        if (text.Length > 64)
            return false;
        Span<char> plain = stackalloc char[text.Length];
        text.CopyTo(plain);
        if (point != '.')
            plain.Replace(point, '.');
        return double.TryParse(plain, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);
    }
}
