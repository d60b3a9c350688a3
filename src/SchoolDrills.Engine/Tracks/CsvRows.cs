using System.Globalization;
using nietras.SeparatedValues;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>Turns the rows of a CSV into samples, by a plan made once from the header.</summary>
internal sealed class CsvRows
{
    private readonly CsvHeader header;
    private readonly CsvTimes times;
    private readonly TrackBuilder builder;
    private readonly int lat,
        lon,
        latHemisphere,
        lonHemisphere,
        lastNeeded;
    private readonly char point;
    private readonly Value[] values;
    private int lastLine;
    private int lastColumns,
        mostColumns;

    public CsvRows(CsvHeader header, CsvTimes times, IReadOnlyList<string[]> sample, TrackBuilder builder)
    {
        (this.header, this.times, this.builder) = (header, times, builder);
        lat = header.Found[CsvColumns.Lat];
        lon = header.Found[CsvColumns.Lon];
        latHemisphere = header.Found.GetValueOrDefault(CsvColumns.LatHemisphere, -1);
        lonHemisphere = header.Found.GetValueOrDefault(CsvColumns.LonHemisphere, -1);
        lastNeeded = Math.Max(Math.Max(lat, lon), Math.Max(this.times.Indices.Time, this.times.Indices.Date));
        // Positions always have a fraction, so they show the decimal separator.
        point = sample.Any(s => s.Length > lastNeeded && s[lat].Contains(',') && !s[lat].Contains('.')) ? ',' : '.';
        builder.Source(CsvColumns.Lat, header.Names[lat]);
        builder.Source(CsvColumns.Lon, header.Names[lon]);
        var values = new List<Value>();
        foreach (var (name, index) in header.Found.ToList())
        {
            if (CsvColumns.OptionalColumn(name) is not { } column)
                continue;
            if (!TryUnit(column, index, out var unit))
            {
                header.Found.Remove(name);
                continue;
            }
            values.Add(new Value(index, column, unit.Factor, unit.Offset, unit == CsvUnit.PressureBySize));
            builder.Source(name, header.Names[index]);
            if (
                column == TrackColumn.GpsAltitudeFt
                && (header.Header[index].Has("ellipsoid") || header.Units[index].Contains("wgs", StringComparison.OrdinalIgnoreCase))
            )
            {
                builder.GpsAltitudeIsEllipsoidal = true;
            }
        }
        this.values = [.. values];
    }

    public void Read(SepReader reader)
    {
        foreach (var row in reader)
            Read(row, header.LineNumber + row.LineNumberFrom);
        // A last record with fewer cells than the header and the others was cut off in the middle of a number.
        if (lastColumns < Math.Min(mostColumns, header.Cells.Length) && builder.Count > 1)
        {
            builder.RemoveLast(lastLine);
            builder.Warn("The last record is cut off and was left out.");
        }
    }

    private void Read(SepReader.Row row, int line)
    {
        if (row.LineNumberToExcl - row.LineNumberFrom > 1)
        {
            builder.Warn(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The record in line {line} runs over {row.LineNumberToExcl - row.LineNumberFrom:N0} "
                        + $"lines, most likely for a quotation mark without its pair; it was left out."
                )
            );
            builder.DropWarned(row.LineNumberToExcl - row.LineNumberFrom);
            return;
        }
        if (row.ColCount <= lastNeeded)
        {
            if (!IsBlankOrComment(row))
                builder.Drop(line);
            return;
        }
        var (time, date, offset) = times.Indices;
        if (
            !times.TryParse(row[time].Span, Cell(row, date), Cell(row, offset), out var utcTicks)
            || !CsvPositions.TryParse(row[lat].Span, Cell(row, latHemisphere), point, out var latDeg)
            || !CsvPositions.TryParse(row[lon].Span, Cell(row, lonHemisphere), point, out var lonDeg)
        )
        {
            if (!IsBlankOrComment(row) && !IsHeaderOrUnits(row))
                builder.Drop(line);
            return;
        }
        if (!builder.Add(utcTicks, latDeg, lonDeg, line))
            return;
        (lastLine, lastColumns, mostColumns) = (line, row.ColCount, Math.Max(mostColumns, row.ColCount));
        foreach (ref readonly var value in values.AsSpan())
        {
            if (value.Index < row.ColCount && TryValue(row[value.Index].Span, out var number))
                builder.Set(value.Column, value.PressureBySize ? PressureBySizeHpa(number) : (number + value.Offset) * value.Factor);
        }
    }

    private static ReadOnlySpan<char> Cell(SepReader.Row row, int index) => index >= 0 && index < row.ColCount ? row[index].Span : default;

    private bool TryValue(ReadOnlySpan<char> text, out double value)
    {
        if (DecimalText.TryParse(text, out value, point))
            return true;
        text = text.Trim();
        return text.StartsWith("FL", StringComparison.OrdinalIgnoreCase) && DecimalText.TryParse(text[2..], out value, point);
    }

    private bool TryUnit(TrackColumn column, int index, out CsvUnit unit)
    {
        var name = header.Units[index];
        var known =
            name.Length > 0 ? CsvUnit.For(column, name)
            : column == TrackColumn.AltimeterSettingHpa ? CsvUnit.PressureBySize
            : header.Header[index].Has("level") ? CsvUnit.For(column, "fl")
            : CsvUnit.Same;
        unit = known ?? CsvUnit.Same;
        if (known is null)
            builder.Warn($"Column \"{header.Names[index]}\" has a unit, {name}, that its kind of value cannot have; it was left out.");
        return known is not null;
    }

    /// <summary>Inches of mercury, hectopascals and pascals are a factor of thirty apart or more, so the size shows the unit.</summary>
    private static double PressureBySizeHpa(double value) =>
        value switch
        {
            > 25 and < 35 => value * Units.HpaPerInHg,
            > 80_000 => value / 100,
            _ => value,
        };

    /// <summary>One optional column: its index and the conversion to the track's unit.</summary>
    private readonly record struct Value(int Index, TrackColumn Column, double Factor, double Offset, bool PressureBySize);

    private static bool IsBlankOrComment(SepReader.Row row)
    {
        var first = row.ColCount == 0 ? default : row[0].Span.Trim();
        if (first.Length > 0)
            return first[0] is '#' or '%' or ';' || first.StartsWith("//");
        for (var i = 1; i < row.ColCount; i++)
        {
            if (!row[i].Span.IsWhiteSpace())
                return false;
        }
        return true;
    }

    private bool IsHeaderOrUnits(SepReader.Row row)
    {
        var lat = row[this.lat].Span.Trim();
        var lon = row[this.lon].Span.Trim();
        if (lat.SequenceEqual(header.Cells[this.lat]) || lon.SequenceEqual(header.Cells[this.lon]))
            return true;
        // Digits are a time that could not be read, unless they are those of a name such as iso8601.
        var time = row[times.Indices.Time].Span;
        if (time.IndexOfAnyInRange('0', '9') >= 0 && !CsvUnit.IsName(time))
            return false;
        var (filled, units) = (0, 0);
        for (var i = 0; i < row.ColCount; i++)
        {
            var cell = row[i].Span.Trim();
            filled += cell.IsEmpty ? 0 : 1;
            units += !cell.IsEmpty && CsvUnit.IsName(cell) ? 1 : 0;
        }
        return units > 1 && units * 2 >= filled;
    }
}
