using System.Globalization;
using nietras.SeparatedValues;

namespace SchoolDrills.Engine.Tracks;

/// <summary>Recorder logs in comma, semicolon, tab or bar separated text.</summary>
internal static class CsvReader
{
    public static TrackBuilder Read(GuardedStream content, string head, TrackReadOptions options)
    {
        var lines = head.ReplaceLineEndings("\n").Split('\n');
        var header = CsvHeader.Find(lines, options.ColumnMapping) ?? throw TrackRefusedException.UnknownFormat(
            "The file is none of GPX, IGC, NMEA and KML, and no header of a CSV stands in its first 50 lines; send one of these formats.");
        Require(header, options.ColumnMapping);
        // The last line of the head may be cut.
        var sample = lines.Take(lines.Length - 1).Skip(header.LineNumber).Take(200)
            .Select(l => CsvHeader.Split(l, header.Separator)).Where(IsData).ToList();
        var builder = new TrackBuilder("csv", options);
        var rows = new CsvRows(header, new CsvTimes(header, sample, builder), sample, builder);
        using var text = TrackReader.OpenText(content);
        for (var i = 0; i < header.LineNumber; i++)
            text.ReadLine();
        var quoted = lines.Skip(header.LineNumber - 1).Any(l => l.Count(c => c == '"') is var quotes && quotes > 0 && quotes % 2 == 0);
        try
        {
            using var reader = Sep.New(header.Separator).Reader(o => o with
            {
                HasHeader = false,
                DisableColCountCheck = true,
                // Without paired quotes in sight, a stray one is damage to its own record and must not swallow those after it.
                DisableQuotesParsing = !quoted,
                Unescape = quoted,
            }).From(text);
            rows.Read(reader);
        }
        catch (NotSupportedException)
        {
            throw TrackRefusedException.Unreadable("A record is longer than any recorder writes, most likely for a quotation mark without its pair; export the recording again.");
        }
        if (builder.Count == 0)
        {
            throw TrackRefusedException.Unreadable(
                builder.Dropped > 0
                    ? string.Create(CultureInfo.InvariantCulture, $"None of the {builder.Dropped:N0} records below the header in line {header.LineNumber} has a usable time and position; check which columns hold them.")
                    : "There are no records below the header; check that the recorder was running and export the recording again.",
                header.LineNumber);
        }
        CsvAltitudeCheck.Correct(header, builder);
        return builder;
    }

    /// <summary>Rows of units, comments and repeated headers have few digits.</summary>
    private static bool IsData(string[] cells) =>
        cells.Count(c => c.Any(char.IsAsciiDigit)) is var numbers && numbers > 1 && numbers * 2 >= cells.Count(c => c.Length > 0);

    private static void Require(CsvHeader header, IReadOnlyDictionary<string, string>? mapping)
    {
        foreach (var (name, text) in mapping ?? new Dictionary<string, string>())
        {
            if (!CsvColumns.IsName(name))
                throw TrackRefusedException.Unreadable($"The column mapping names \"{name}\", which is no column of a recording; use the names the reader reports.");
            if (text.Length > 0 && !header.Header.Any(h => h.Text.Equals(text.Trim(), StringComparison.OrdinalIgnoreCase)))
            {
                throw TrackRefusedException.Unreadable(string.Create(CultureInfo.InvariantCulture,
                    $"The column mapping takes {name} from \"{text}\", which the header in line {header.LineNumber} does not have; choose another column."), header.LineNumber);
            }
        }
        foreach (var (name, what) in new[] { (CsvColumns.Time, "a time"), (CsvColumns.Lat, "a latitude"), (CsvColumns.Lon, "a longitude") })
        {
            if (header.Found.ContainsKey(name))
                continue;
            throw TrackRefusedException.Unreadable(string.Create(CultureInfo.InvariantCulture,
                $"The header in line {header.LineNumber} has no column that reads as {what}; name it so, or map the column by hand."), header.LineNumber);
        }
    }
}
