using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>One optional column of a CSV: where it is and how its cells become values in the track's unit.</summary>
internal sealed class CsvValue(int index, TrackColumn column, CsvUnit unit, bool unitIsManual, char point)
{
    private char[] lastUnit = [];
    private CsvUnit? lastConversion;

    public int Index => index;

    public TrackColumn Column => column;

    /// <summary>Reads a cell: a number, a flight level, or a number with a unit of its own, which precedes the header's.</summary>
    public bool TryParse(ReadOnlySpan<char> text, out double value)
    {
        if (DecimalText.TryParse(text, out value, point))
        {
            value = unit == CsvUnit.PressureBySize ? PressureBySizeHpa(value) : Converted(value, unit);
            return true;
        }
        text = text.Trim();
        if (text.StartsWith("FL", StringComparison.OrdinalIgnoreCase) && DecimalText.TryParse(text[2..], out value, point))
        {
            value *= 100;
            return true;
        }
        var end = NumberLength(text);
        if (end == 0 || !DecimalText.TryParse(text[..end], out value, point))
            return false;
        var conversion = unitIsManual ? unit : UnitIn(text[end..].Trim());
        value = conversion is { } known ? Converted(value, known) : double.NaN;
        return conversion is not null;
    }

    /// <summary>The text behind a cell's number, such as <c>m</c> of <c>98.470 m</c>; empty where nothing or no number stands.</summary>
    public static string UnitOf(string cell) => NumberLength(cell) is var end and > 0 ? cell[end..].Trim() : "";

    private static int NumberLength(ReadOnlySpan<char> text)
    {
        var end = text.Length > 0 && text[0] is '-' or '+' ? 1 : 0;
        while (end < text.Length && (char.IsAsciiDigit(text[end]) || text[end] is '.' or ','))
            end++;
        return end;
    }

    private CsvUnit? UnitIn(ReadOnlySpan<char> text)
    {
        // A column has one unit, or two; comparing is cheaper than looking it up again.
        if (!text.SequenceEqual(lastUnit))
            (lastUnit, lastConversion) = (text.ToArray(), CsvUnit.For(column, text.ToString()));
        return lastConversion;
    }

    private static double Converted(double value, CsvUnit unit) => (value + unit.Offset) * unit.Factor;

    /// <summary>Inches of mercury, hectopascals and pascals are a factor of thirty apart or more, so the size shows the unit.</summary>
    private static double PressureBySizeHpa(double value) =>
        value switch
        {
            > 25 and < 35 => value * Units.HpaPerInHg,
            > 80_000 => value / 100,
            _ => value,
        };
}
