namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// The times of a CSV: one column with date and time, or the time since 1970, or date and time apart; UTC, or local with
/// a column that says how far local time is ahead, or the local date with the time of UTC and such a column.
/// </summary>
internal sealed class CsvTimes
{
    private readonly int time;
    private readonly int date;
    private readonly int offset;
    private readonly CsvDates dates;
    private readonly bool dateIsLocal;

    public CsvTimes(CsvHeader header, IReadOnlyList<string[]> sample, TrackBuilder builder)
    {
        time = header.Found[CsvColumns.Time];
        date = header.Found.GetValueOrDefault(CsvColumns.Date, -1);
        offset = header.Found.GetValueOrDefault(CsvColumns.UtcOffset, -1);
        var times = Cells(sample, time);
        var timesHaveDates = times.Count > 0 && times.Count(t => HasDate(t)) * 2 > times.Count;
        if (timesHaveDates)
        {
            date = -1;
        }
        else if (times.Count > 0 && times.TrueForAll(IsCount))
        {
            throw TrackRefusedException.Unreadable(
                $"Column \"{header.Names[time]}\" counts from some start, and nothing says when that was; say which column has the time "
                    + "of day and the date, or export the recording with them.",
                header.LineNumber
            );
        }
        else if (date < 0 && times.Count > 0)
        {
            throw TrackRefusedException.Unreadable(
                $"Column \"{header.Names[time]}\" has times without a date and no column has the date; add a "
                    + "date column, or say which column it is.",
                header.LineNumber
            );
        }
        var utc =
            header.Header[time].Has("utc")
            || times.Any(t => TimeText.TryParseIso(t, out _, out var zoned) && zoned)
            || times.Any(t => DecimalText.TryParse(t, out _) && date < 0);
        dateIsLocal = utc && date >= 0 && DateIsLocal(header, builder);
        if (utc && !dateIsLocal)
            offset = -1;
        else if (offset < 0)
            builder.Warn("No column says how far the times are from UTC; they were taken as UTC.");
        var dated = date >= 0 ? date : time;
        dates = new CsvDates(Cells(sample, dated), $"{header.Names[dated]} {header.Units[dated]}", builder);
        builder.Source(CsvColumns.Time, header.Names[time]);
        // A column that is not needed is not used.
        foreach (var (name, index) in new[] { (CsvColumns.Date, date), (CsvColumns.UtcOffset, offset) })
        {
            if (index >= 0)
                builder.Source(name, header.Names[index]);
            else
                header.Found.Remove(name);
        }
    }

    /// <summary>The columns of a row's time; -1 for none.</summary>
    public (int Time, int Date, int Offset) Indices => (time, date, offset);

    /// <summary>A row's time from its cells; cells without a column are empty.</summary>
    public bool TryParse(ReadOnlySpan<char> time, ReadOnlySpan<char> date, ReadOnlySpan<char> offset, out long utcTicks)
    {
        if (this.date >= 0)
        {
            utcTicks = 0;
            if (!dates.TryParse(date, out var dateTicks) || !TimeText.TryParseClock(time, out var clockTicks))
                return false;
            utcTicks = dateTicks + clockTicks;
        }
        else if (!TryDateTime(time, out utcTicks))
        {
            return false;
        }

        if (this.offset < 0)
            return true;
        if (!TimeText.TryParseOffset(offset, out var offsetTicks))
            return false;
        if (dateIsLocal)
            utcTicks += Days(utcTicks) - Days(utcTicks + offsetTicks);
        else
            utcTicks -= offsetTicks;
        return true;

        static long Days(long ticks) => ticks - ticks % TimeSpan.TicksPerDay;
    }

    /// <summary>Whether a UTC time has a local date beside it, of which the offset tells the day.</summary>
    private bool DateIsLocal(CsvHeader header, TrackBuilder builder)
    {
        if (header.Header[date].Has("utc") || (offset < 0 && !header.Header[date].Has("local")))
            return false;
        if (offset < 0)
        {
            builder.Warn(
                $"Column \"{header.Names[date]}\" is a local date and \"{header.Names[time]}\" a UTC time, but no column says how far "
                    + "they are apart; the day was taken as that of UTC."
            );
        }
        else if (!header.Header[date].Has("local"))
        {
            builder.Warn(
                $"Column \"{header.Names[date]}\" was taken as the local date, because \"{header.Names[offset]}\" says how far local "
                    + "time is from UTC; if it is the date of UTC, set utcOffset to none."
            );
        }
        return offset >= 0;
    }

    private bool TryDateTime(ReadOnlySpan<char> text, out long utcTicks)
    {
        if (TimeText.TryParseIso(text, out utcTicks, out _))
            return true;
        text = text.Trim();
        if (DecimalText.TryParse(text, out var number))
            return TryEpoch(text, number, out utcTicks);
        var blank = text.IndexOfAny(' ', 'T');
        if (
            blank < 0
            || !dates.TryParse(text[..blank], out var dateTicks)
            || !TimeText.TryParseClock(text[(blank + 1)..].TrimEnd('Z'), out var clockTicks)
        )
        {
            return false;
        }

        utcTicks = dateTicks + clockTicks;
        return true;
    }

    /// <summary>Seconds, milli-, micro- or nanoseconds since 1970 by size, or the fourteen digits yyyymmddhhmmss.</summary>
    private static bool TryEpoch(ReadOnlySpan<char> text, double number, out long utcTicks)
    {
        utcTicks = 0;
        if (
            text.Length == 14
            && TimeText.TryDigits(text, 0, 4, out var year)
            && TimeText.TryDigits(text, 4, 2, out var month)
            && TimeText.TryDigits(text, 6, 2, out var day)
            && TimeText.TryDate(year, month, day, out var dayTicks)
            && TimeText.TryParseClock(text[8..], out var clockTicks)
        )
        {
            utcTicks = dayTicks + clockTicks;
            return true;
        }
        var seconds = number switch
        {
            < 3e8 => double.NaN,
            < 1e11 => number,
            < 1e14 => number / 1e3,
            < 1e17 => number / 1e6,
            < 1e20 => number / 1e9,
            _ => double.NaN,
        };
        if (double.IsNaN(seconds))
            return false;
        utcTicks = DateTime.UnixEpoch.Ticks + (long)Math.Round(seconds * TimeSpan.TicksPerSecond);
        return true;
    }

    /// <summary>Whether a cell can be a date with its time, a time since 1970 or a time of day.</summary>
    public static bool MayBeTime(string cell) => HasDate(cell) || TimeText.TryParseClock(cell, out _);

    /// <summary>A number that is no time of day as hhmmss.</summary>
    private static bool IsCount(string cell) => DecimalText.TryParse(cell, out _) && !TimeText.TryParseClock(cell, out _);

    private static bool HasDate(string cell) =>
        cell.Length >= 14 && (cell.Contains('-') || cell.Contains('/') || cell.Contains('.') || cell.Length == 14)
        || DecimalText.TryParse(cell, out var number) && number >= 3e8;

    private static List<string> Cells(IReadOnlyList<string[]> sample, int index) =>
        [.. sample.Where(s => s.Length > index && s[index].Length > 0).Select(s => s[index])];
}
