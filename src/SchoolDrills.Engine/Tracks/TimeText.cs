namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Dates and times as recorders write them, as ticks of 100 ns. ISO 8601 in its extended form (the profile of xsd:dateTime), which is
/// what GPX and KML carry, and the parts that other formats combine themselves.
/// </summary>
internal static class TimeText
{
    /// <summary>First year of recordings, when satellite receivers began; earlier dates are damaged.</summary>
    public static readonly long FirstTicks = new DateTime(1980, 1, 1, 0, 0, 0, DateTimeKind.Utc).Ticks;

    /// <summary>End of the accepted years; see <see cref="FirstTicks"/>.</summary>
    public static readonly long LastTicks = new DateTime(2100, 1, 1, 0, 0, 0, DateTimeKind.Utc).Ticks;

    /// <summary>
    /// Reads <c>2026-01-17T17:30:00.5+13:00</c>: any number of fraction digits; Z, an offset or neither; T or a blank between.
    /// </summary>
    public static bool TryParseIso(ReadOnlySpan<char> text, out long utcTicks, out bool hasZone)
    {
        utcTicks = 0;
        hasZone = false;
        if (
            text.Length == 20
            && text[19] == 'Z'
            && text[10] == 'T'
            && text[4] == '-'
            && text[7] == '-'
            && TryPair(text, 0, out var century)
            && TryPair(text, 2, out var yearOfCentury)
            && TryPair(text, 5, out var m)
            && TryPair(text, 8, out var d)
            && TryPlainClock(text.Slice(11, 8), out var plainTicks)
            && TryDate(century * 100 + yearOfCentury, m, d, out utcTicks)
        )
        {
            utcTicks += plainTicks;
            return hasZone = true;
        }
        text = text.Trim();
        if (
            text.Length < 16
            || text[4] != '-'
            || text[7] != '-'
            || text[10] is not ('T' or 't' or ' ')
            || !TryDigits(text, 0, 4, out var year)
            || !TryDigits(text, 5, 2, out var month)
            || !TryDigits(text, 8, 2, out var day)
            || !TryDate(year, month, day, out var dayTicks)
        )
        {
            return false;
        }

        var rest = text[11..];
        var zoneAt = rest.IndexOfAny("Zz+-");
        if (!TryParseClock(zoneAt < 0 ? rest : rest[..zoneAt], out var clockTicks))
            return false;
        utcTicks = dayTicks + clockTicks;
        if (zoneAt < 0)
            return true;
        hasZone = true;
        if (!TryParseOffset(rest[zoneAt..], out var offsetTicks))
            return false;
        utcTicks -= offsetTicks;
        return true;
    }

    /// <summary>
    /// Reads <c>17:30</c>, <c>17:30:00</c>, <c>17:30:00.25</c>, <c>173000.25</c> or <c>5:30:00 PM</c> as ticks since midnight.
    /// </summary>
    public static bool TryParseClock(ReadOnlySpan<char> text, out long ticks)
    {
        if (TryPlainClock(text, out ticks))
            return true;
        text = text.Trim();
        var afternoon = text.EndsWith("pm", StringComparison.OrdinalIgnoreCase);
        var twelveHours = afternoon || text.EndsWith("am", StringComparison.OrdinalIgnoreCase);
        if (twelveHours)
            text = text[..^2].TrimEnd();
        var fractionAt = text.IndexOfAny('.', ',');
        var fraction = 0L;
        if (fractionAt >= 0)
        {
            if (!TryFraction(text[(fractionAt + 1)..], out fraction))
                return false;
            text = text[..fractionAt];
        }
        int hour,
            minute,
            second = 0;
        var colon = text.IndexOf(':');
        if (colon < 0)
        {
            if (
                text.Length != 6
                || !TryDigits(text, 0, 2, out hour)
                || !TryDigits(text, 2, 2, out minute)
                || !TryDigits(text, 4, 2, out second)
            )
            {
                return false;
            }
        }
        else
        {
            if (colon is not (1 or 2) || !TryDigits(text, 0, colon, out hour) || !TryDigits(text, colon + 1, 2, out minute))
                return false;
            var rest = text[(colon + 3)..];
            if (rest.Length != 0 && (rest.Length != 3 || rest[0] != ':' || !TryDigits(rest, 1, 2, out second)))
                return false;
            if (rest.Length == 0 && fractionAt >= 0)
                return false;
        }
        if (twelveHours)
        {
            if (hour is < 1 or > 12)
                return false;
            hour = hour % 12 + (afternoon ? 12 : 0);
        }
        // Second 60 is a leap second; the day after begins one tick short of it.
        if (hour > 23 || minute > 59 || second > 60)
            return false;
        ticks = (hour * 3600L + minute * 60L + second) * TimeSpan.TicksPerSecond + fraction;
        return true;
    }

    /// <summary>
    /// Reads <c>Z</c>, <c>+13:00</c>, <c>-0600</c>, <c>+12</c> or <c>-5.5</c> hours, as ticks that local time is ahead of UTC.
    /// </summary>
    public static bool TryParseOffset(ReadOnlySpan<char> text, out long ticks)
    {
        ticks = 0;
        text = text.Trim();
        if (text.Equals("Z", StringComparison.OrdinalIgnoreCase) || text.Equals("UTC", StringComparison.OrdinalIgnoreCase))
            return true;
        var negative = text.Length > 0 && text[0] is '-' or '\u2212';
        if (text.Length > 0 && text[0] is '+' or '-' or '\u2212')
            text = text[1..];
        var minutes = 0;
        int hours;
        if (text.IndexOfAny('.', ',') >= 0)
        {
            if (!DecimalText.TryParse(text, out var fractional, text.Contains(',') ? ',' : '.') || fractional is < 0 or > 15)
                return false;
            (hours, minutes) = ((int)fractional, (int)Math.Round((fractional - (int)fractional) * 60));
        }
        else if (text.IndexOf(':') is var colon and > 0)
        {
            if (
                !DecimalText.TryParseDigits(text[..colon], out hours)
                || text.Length < colon + 3
                || !TryDigits(text, colon + 1, 2, out minutes)
            )
            {
                return false;
            }
        }
        else if (text.Length is 1 or 2)
        {
            if (!DecimalText.TryParseDigits(text, out hours))
                return false;
        }
        else if (text.Length != 4 || !TryDigits(text, 0, 2, out hours) || !TryDigits(text, 2, 2, out minutes))
        {
            return false;
        }

        if (hours > 15 || minutes > 60)
            return false;
        ticks = (hours * 60L + minutes) * TimeSpan.TicksPerMinute;
        if (negative)
            ticks = -ticks;
        return true;
    }

    /// <summary>Ticks of a day's midnight; false for a day that no calendar has.</summary>
    public static bool TryDate(int year, int month, int day, out long ticks)
    {
        ticks = 0;
        if (year is < 1 or > 9998 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth(year, month))
            return false;
        ticks = new DateTime(year, month, day, 0, 0, 0, DateTimeKind.Utc).Ticks;
        return true;
    }

    /// <summary>Two-digit years count from 1980 to 2079, as satellite time began in 1980.</summary>
    public static int FullYear(int twoDigitYear) => twoDigitYear >= 80 ? 1900 + twoDigitYear : 2000 + twoDigitYear;

    /// <summary>The instant with this time of day nearest to another: how a clock without a date crosses midnight.</summary>
    public static long NearestDay(long nearTicks, long clockTicks)
    {
        var ticks = nearTicks - nearTicks % TimeSpan.TicksPerDay + clockTicks;
        return ticks - nearTicks > TimeSpan.TicksPerDay / 2 ? ticks - TimeSpan.TicksPerDay
            : nearTicks - ticks > TimeSpan.TicksPerDay / 2 ? ticks + TimeSpan.TicksPerDay
            : ticks;
    }

    /// <summary>Reads <paramref name="count"/> digits from <paramref name="start"/>.</summary>
    public static bool TryDigits(ReadOnlySpan<char> text, int start, int count, out int value)
    {
        value = 0;
        return start + count <= text.Length && DecimalText.TryParseDigits(text.Slice(start, count), out value);
    }

    /// <summary>The usual form, hh:mm:ss, parsed without the slower general case.</summary>
    private static bool TryPlainClock(ReadOnlySpan<char> text, out long ticks)
    {
        ticks = 0;
        if (
            text.Length != 8
            || text[2] != ':'
            || text[5] != ':'
            || !TryPair(text, 0, out var hour)
            || !TryPair(text, 3, out var minute)
            || !TryPair(text, 6, out var second)
            || hour > 23
            || minute > 59
            || second > 59
        )
        {
            return false;
        }

        ticks = (hour * 3600L + minute * 60L + second) * TimeSpan.TicksPerSecond;
        return true;
    }

    private static bool TryPair(ReadOnlySpan<char> text, int start, out int value)
    {
        var tens = (uint)(text[start] - '0');
        var ones = (uint)(text[start + 1] - '0');
        value = (int)(tens * 10 + ones);
        return tens <= 9 && ones <= 9;
    }

    private static bool TryFraction(ReadOnlySpan<char> digits, out long ticks)
    {
        ticks = 0;
        var scale = TimeSpan.TicksPerSecond;
        foreach (var c in digits)
        {
            if (c is < '0' or > '9')
                return false;
            scale /= 10;
            ticks += (c - '0') * scale;
        }
        return digits.Length > 0;
    }
}
