using System.Globalization;
using nietras.SeparatedValues;

namespace SchoolDrills.Engine.Tracks;

/// <summary>Recorder logs in comma, semicolon, tab or bar separated text.</summary>
internal static class CsvReader
{
    public static TrackBuilder Read(GuardedStream content, string head, TrackReadOptions options)
    {
        var lines = Lines(head);
        var header = CsvHeader.Find(lines, options.ColumnMapping) ?? throw NoHeader(lines);
        var sample = Sample(header, lines);
        var builder = new TrackBuilder("csv", options);
        try
        {
            if (options.ColumnMapping is { Count: > 0 } mapping)
            {
                CsvMapping.Apply(mapping, header);
                builder.Warn(CsvMapping.Sentence(mapping, options.ColumnMappingIsRemembered));
            }
            RequireColumns(header, sample);
            header.TakeUnitsOfCells(sample);
            var rows = new CsvRows(header, new CsvTimes(header, sample, builder), sample, builder);
            ReadRows(content, header, lines, rows);
            RequireSamples(header, builder);
        }
        catch (TrackRefusedException refused)
        {
            throw refused.With(header.Show(sample));
        }
        // Rates need the times as they will be.
        builder.SpreadSharedTimes();
        CsvAltitudeCheck.Correct(header, builder);
        var stretches = GroundStretches.Of(builder);
        CsvSpeedCheck.Correct(header, builder, stretches);
        CsvVariationCheck.Correct(header, builder, stretches);
        CsvDirectionCheck.Correct(header, builder, stretches);
        builder.Header = header.Show(sample);
        return builder;
    }

    /// <summary>The header alone, with the quantities of its columns; null when there is none.</summary>
    public static TrackHeader? ReadHeader(string head, TrackReadOptions options)
    {
        var lines = Lines(head);
        if ((CsvHeader.Find(lines, options.ColumnMapping) ?? CsvHeader.Guess(lines)) is not { } header)
            return null;
        var sample = Sample(header, lines);
        try
        {
            CsvMapping.Apply(options.ColumnMapping ?? new Dictionary<string, ColumnChoice>(), header);
            RequireColumns(header, sample);
            header.TakeUnitsOfCells(sample);
            var builder = new TrackBuilder("csv", options);
            _ = new CsvRows(header, new CsvTimes(header, sample, builder), sample, builder);
        }
        catch (TrackRefusedException)
        {
            // The header is shown so that a person can correct the problem.
        }
        return header.Show(sample);
    }

    private static string[] Lines(string head) => head.ReplaceLineEndings("\n").Split('\n');

    /// <summary>Records below the header, whole ones: the last line of the head may be cut.</summary>
    private static List<string[]> Sample(CsvHeader header, string[] lines) =>
        [
            .. lines
                .Take(lines.Length - 1)
                .Skip(header.LineNumber)
                .Take(ReaderLimits.SampleLines)
                .Select(l => CsvHeader.Split(l, header.Separator))
                .Where(IsData),
        ];

    /// <summary>Rows of units, comments and repeated headers have few digits.</summary>
    private static bool IsData(string[] cells) =>
        cells.Count(c => c.Any(char.IsAsciiDigit)) is var numbers && numbers > 1 && numbers * 2 >= cells.Count(c => c.Length > 0);

    private static void ReadRows(GuardedStream content, CsvHeader header, string[] lines, CsvRows rows)
    {
        using var text = TrackReader.OpenText(content);
        for (var i = 0; i < header.LineNumber; i++)
            text.ReadLine();
        var quoted = lines.Skip(header.LineNumber - 1).Any(l => CsvHeader.HasQuotedCells(l, header.Separator));
        try
        {
            using var reader = Sep.New(header.Separator)
                .Reader(o =>
                    o with
                    {
                        HasHeader = false,
                        DisableColCountCheck = true,
                        // Without paired quotes in the head, a single quote is damage to its own record and must not swallow the next ones.
                        DisableQuotesParsing = !quoted,
                        Unescape = quoted,
                    }
                )
                .From(text);
            rows.Read(reader);
        }
        catch (NotSupportedException)
        {
            throw TrackRefusedException.Unreadable(
                "A record is longer than any recorder writes, most likely for a quotation mark without its "
                    + "pair; export the recording again."
            );
        }
    }

    private static TrackRefusedException NoHeader(string[] lines)
    {
        if (CsvHeader.Guess(lines) is not { } guess)
        {
            return TrackRefusedException.UnknownFormat(
                "The file is none of GPX, IGC, NMEA, KML and TCX, and no header of a CSV stands in its first 50 "
                    + "lines; send one of these formats."
            );
        }
        return TrackRefusedException
            .Unreadable(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Line {guess.LineNumber} looks like a header, but none of its columns ({Names(guess)}) "
                        + $"has a name that is known; say which columns hold time, latitude and longitude."
                ),
                guess.LineNumber
            )
            .With(guess.Show(Sample(guess, lines)));
    }

    private static void RequireColumns(CsvHeader header, List<string[]> sample)
    {
        // Pointing to a column helps only where one holds times.
        if (!header.Found.ContainsKey(CsvColumns.Time) && sample.Count > 0 && !sample.Exists(s => s.Any(CsvTimes.MayBeTime)))
        {
            throw TrackRefusedException.Unreadable(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The header in line {header.LineNumber} has no column that reads as a time, and none of its columns ({Names(header)}) "
                        + $"holds a time of day; export the recording with date and time."
                ),
                header.LineNumber
            );
        }
        foreach (var (name, what) in new[] { (CsvColumns.Time, "a time"), (CsvColumns.Lat, "a latitude"), (CsvColumns.Lon, "a longitude") })
        {
            if (header.Found.ContainsKey(name))
                continue;
            throw TrackRefusedException.Unreadable(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The header in line {header.LineNumber} has no column that reads as {what}; say which of "
                        + $"its columns ({Names(header)}) it is."
                ),
                header.LineNumber
            );
        }
    }

    private static void RequireSamples(CsvHeader header, TrackBuilder builder)
    {
        if (builder.Count > 0)
            return;
        throw TrackRefusedException.Unreadable(
            builder.Dropped > 0
                ? string.Create(
                    CultureInfo.InvariantCulture,
                    $"None of the {builder.Dropped:N0} records below the header in line {header.LineNumber} "
                        + $"has a usable time and position; check which of its columns ({Names(header)}) hold them."
                )
                : "There are no records below the header; check that the recorder was running and export the recording again.",
            header.LineNumber
        );
    }

    private static string Names(CsvHeader header) =>
        string.Join(", ", header.Names.Take(ReaderLimits.ShownNames).Select(n => ShownText.Cut(n, ReaderLimits.ShownNameCharacters)))
        + (header.Names.Length > ReaderLimits.ShownNames ? " and more" : "");
}
