using System.Globalization;

namespace SchoolDrills.Engine.Tracks;

/// <summary>The dates of a CSV: the year first, or day, month and year, or month, day and year, as the file itself shows.</summary>
internal sealed class CsvDates
{
    private readonly bool monthFirst;
    private readonly bool yearLast;
    private char[] last = [];
    private long lastTicks;
    private bool lastGood;

    /// <param name="cells">Dates of the first records, from which their order is told.</param>
    /// <param name="form">Name and unit of their column, which may say the order.</param>
    /// <param name="builder">Takes the warning where the file leaves the order open.</param>
    public CsvDates(IReadOnlyList<string> cells, string form, TrackBuilder builder)
    {
        monthFirst = MonthFirst(cells, builder);
        yearLast = YearLast(cells, form, builder);
    }

    /// <summary>Midnight of a date, ticks.</summary>
    public bool TryParse(ReadOnlySpan<char> date, out long ticks)
    {
        // A recording has one date, or two; comparing is cheaper than parsing again.
        if (!date.SequenceEqual(last))
        {
            last = date.ToArray();
            lastGood = TryDate(date.Trim(), out lastTicks);
        }
        ticks = lastTicks;
        return lastGood;
    }

    private bool TryDate(ReadOnlySpan<char> text, out long ticks)
    {
        ticks = 0;
        Span<Range> parts = stackalloc Range[4];
        if (text.Length == 8 && DecimalText.TryParseDigits(text, out var packed))
            return TimeText.TryDate(packed / 10_000, packed / 100 % 100, packed % 100, out ticks);
        if (text.Length == 6 && DecimalText.TryParseDigits(text, out packed))
            return TryShort(packed, yearLast, out ticks);
        if (
            text.SplitAny(parts, "-/.") != 3
            || !DecimalText.TryParseDigits(text[parts[0]], out var a)
            || !DecimalText.TryParseDigits(text[parts[1]], out var b)
            || !DecimalText.TryParseDigits(text[parts[2]], out var c)
        )
        {
            return false;
        }

        if (parts[0].GetOffsetAndLength(text.Length).Length == 4)
            return TimeText.TryDate(a, b, c, out ticks);
        if (c < 100)
            c = TimeText.FullYear(c);
        return monthFirst ? TimeText.TryDate(c, a, b, out ticks) : TimeText.TryDate(c, b, a, out ticks);
    }

    /// <summary>Six digits: yymmdd, or ddmmyy.</summary>
    private static bool TryShort(int packed, bool yearLast, out long ticks)
    {
        var (first, month, third) = (packed / 10_000, packed / 100 % 100, packed % 100);
        return yearLast
            ? TimeText.TryDate(TimeText.FullYear(third), month, first, out ticks)
            : TimeText.TryDate(TimeText.FullYear(first), month, third, out ticks);
    }

    /// <summary>Whether the month comes first in dates with slashes; warns where the file leaves it open.</summary>
    private static bool MonthFirst(IReadOnlyList<string> dates, TrackBuilder builder)
    {
        var open = false;
        foreach (var date in dates)
        {
            var parts = date.Split(' ', 2)[0].Split('/');
            if (
                parts.Length != 3
                || !DecimalText.TryParseDigits(parts[0], out var first)
                || !DecimalText.TryParseDigits(parts[1], out var second)
                || first > 31
            )
            {
                continue;
            }

            if (first > 12 || second > 12)
                return second > 12;
            open |= first != second;
        }
        if (open)
            Warn(builder, dates[0], "day");
        return false;
    }

    /// <summary>Whether the year comes last in dates of six digits; warns where the file leaves it open.</summary>
    private static bool YearLast(IReadOnlyList<string> dates, string form, TrackBuilder builder)
    {
        if (form.Contains("ddmmyy", StringComparison.OrdinalIgnoreCase))
            return true;
        int first = 0,
            last = 0,
            both = 0;
        foreach (var date in dates)
        {
            if (date.Length != 6 || !DecimalText.TryParseDigits(date, out var packed))
                continue;
            var (yearFirst, yearLast) = (TryShort(packed, false, out _), TryShort(packed, true, out _));
            first += yearFirst ? 1 : 0;
            last += yearLast ? 1 : 0;
            both += yearFirst && yearLast ? 1 : 0;
        }
        if (both > 0 && first == last && !form.Contains("yymmdd", StringComparison.OrdinalIgnoreCase))
            Warn(builder, dates[0], "year");
        return last > first;
    }

    private static void Warn(TrackBuilder builder, string date, string first) =>
        builder.Warn(
            string.Create(
                CultureInfo.InvariantCulture,
                $"Dates such as {date} were read with the {first} first; send them as yyyy-mm-dd to be sure."
            )
        );
}
