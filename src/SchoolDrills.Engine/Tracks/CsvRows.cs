using System.Globalization;
using nietras.SeparatedValues;

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
    private readonly CsvPair? pair;
    private readonly CsvValue[] values;
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
        if (lat == lon)
            pair = new CsvPair(header.Cells[lat], [.. sample.Where(s => s.Length > lat && s[lat].Length > 0).Select(s => s[lat])]);
        // Positions always have a fraction, so they show the decimal separator.
        point = pair?.Point ?? (sample.Any(s => s.Length > lastNeeded && s[lat].Contains(',') && !s[lat].Contains('.')) ? ',' : '.');
        builder.Source(CsvColumns.Lat, header.Names[lat]);
        builder.Source(CsvColumns.Lon, header.Names[lon]);
        var values = new List<CsvValue>();
        foreach (var (name, index) in header.Found.ToList())
        {
            if (CsvColumns.OptionalColumn(name) is not { } column)
                continue;
            if (!TryUnit(column, index, out var unit))
            {
                header.Found.Remove(name);
                continue;
            }
            values.Add(new CsvValue(index, column, unit, header.UnitIsManual(name), point));
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
            || !TryPosition(row, out var latDeg, out var lonDeg)
        )
        {
            if (!IsBlankOrComment(row) && !IsHeaderOrUnits(row))
                builder.Drop(line);
            return;
        }
        if (!builder.Add(utcTicks, latDeg, lonDeg, line))
            return;
        (lastLine, lastColumns, mostColumns) = (line, row.ColCount, Math.Max(mostColumns, row.ColCount));
        foreach (var value in values)
        {
            if (value.Index < row.ColCount && value.TryParse(row[value.Index].Span, out var number))
                builder.Set(value.Column, number);
        }
    }

    private static ReadOnlySpan<char> Cell(SepReader.Row row, int index) => index >= 0 && index < row.ColCount ? row[index].Span : default;

    private bool TryPosition(SepReader.Row row, out double latDeg, out double lonDeg)
    {
        if (pair is not null)
            return pair.TryParse(row[lat].Span, out latDeg, out lonDeg);
        lonDeg = double.NaN;
        return CsvPositions.TryParse(row[lat].Span, Side(row, latHemisphere, lat), point, out latDeg)
            && CsvPositions.TryParse(row[lon].Span, Side(row, lonHemisphere, lon), point, out lonDeg);
    }

    /// <summary>The letter of a position from its own column, or from the header of the position.</summary>
    private ReadOnlySpan<char> Side(SepReader.Row row, int hemisphere, int position) =>
        hemisphere >= 0 ? Cell(row, hemisphere) : header.Header[position].Side;

    private bool TryUnit(TrackColumn column, int index, out CsvUnit unit)
    {
        var name = header.Units[index];
        var known =
            name.Length > 0 ? CsvUnit.For(column, name)
            : column == TrackColumn.AltimeterSettingHpa ? CsvUnit.PressureBySize
            : header.Header[index].Has("level") ? CsvUnit.For(column, "fl")
            : CsvUnit.Same;
        unit = known ?? CsvUnit.Same;
        if (known is not null)
            return true;
        builder.Warn(
            $"Column \"{header.Names[index]}\" has a unit, {name}, that its kind of value cannot have; it was left out; set its unit."
        );
        return false;
    }

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
        // Before the first record, words in place of time and position are a second header.
        if (builder.Count == 0 && IsWord(row[times.Indices.Time].Span) && IsWord(lat) && IsWord(lon))
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

    private static bool IsWord(ReadOnlySpan<char> cell)
    {
        var letters = 0;
        foreach (var c in cell)
        {
            if (char.IsAsciiDigit(c))
                return false;
            letters += char.IsLetter(c) ? 1 : 0;
        }
        return letters > 1;
    }
}
