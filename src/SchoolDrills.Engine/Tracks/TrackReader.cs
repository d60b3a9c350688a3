using System.Text;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Reads recordings: recognizes the format by content, never by name, inflates gzip and zip of one file, keeps to the limits while it
/// reads, and returns columns or the one reason why there are none.
/// </summary>
public static class TrackReader
{
    /// <summary>Reads one recording from <paramref name="stream"/>, which is left open. Samples stay in file order, as recorded.</summary>
    /// <exception cref="OperationCanceledException">Reading was cancelled.</exception>
    /// <exception cref="IOException">The stream failed.</exception>
    public static TrackReadResult Read(Stream stream, TrackReadOptions? options = null, CancellationToken ct = default)
    {
        ArgumentNullException.ThrowIfNull(stream);
        options ??= new TrackReadOptions();
        try
        {
            using var zip = new Inflation(stream, options, ct);
            return new TrackReadResult(ReadPlain(zip.Content, options), null);
        }
        catch (TrackRefusedException refused)
        {
            return new TrackReadResult(null, refused.Problem);
        }
        catch (InvalidDataException)
        {
            return new TrackReadResult(
                null,
                new TrackProblem(
                    TrackProblemKind.Unreadable,
                    "The compressed file is damaged, encrypted or packed in a way not read here; send the "
                        + "recording as it is, or as gzip or zip."
                )
            );
        }
    }

    /// <summary>
    /// The header of a CSV with what its columns are taken as, from the first 64 KiB alone, so by their names and not by what the flight
    /// shows of them; null when <paramref name="stream"/> is another format or has no header.
    /// </summary>
    /// <exception cref="OperationCanceledException">Reading was cancelled.</exception>
    /// <exception cref="IOException">The stream failed.</exception>
    public static TrackHeader? ReadHeader(Stream stream, TrackReadOptions? options = null, CancellationToken ct = default)
    {
        ArgumentNullException.ThrowIfNull(stream);
        options ??= new TrackReadOptions();
        try
        {
            using var zip = new Inflation(stream, options, ct);
            zip.Content.Peek(ReaderLimits.HeadBytes);
            var text = HeadText(zip.Content);
            return TrackSniffer.Recognize(text) == SniffedFormat.Text ? CsvReader.ReadHeader(text, options) : null;
        }
        catch (Exception e) when (e is TrackRefusedException or InvalidDataException)
        {
            return null;
        }
    }

    private static Track ReadPlain(GuardedStream content, TrackReadOptions options)
    {
        var head = content.Peek(ReaderLimits.HeadBytes);
        if (head.Length == 0)
            throw new TrackRefusedException(new TrackProblem(TrackProblemKind.Empty, "The file is empty; export the recording again."));
        if (Inflation.IsCompressed(head))
        {
            throw TrackRefusedException.UnknownFormat(
                "The compressed file holds another compressed file; send the recording itself, or compressed once."
            );
        }
        if (BinaryFormats.NameOf(head) is { } name)
            throw TrackRefusedException.UnknownFormat($"The file is {name}, which is not read here; export as GPX and send that.");
        var text = HeadText(content);
        if (string.IsNullOrWhiteSpace(text))
        {
            throw TrackRefusedException.Unreadable(
                "The file begins with empty space and no recording, as after a loss of power; export the recording again."
            );
        }
        var builder = TrackSniffer.Recognize(text) switch
        {
            SniffedFormat.Xml => XmlTracks.Read(content, text, options),
            SniffedFormat.Igc => ReadLines(content, IgcReader.Read, new TrackBuilder("igc", options)),
            SniffedFormat.Nmea => ReadLines(content, NmeaReader.Read, new TrackBuilder("nmea", options)),
            SniffedFormat.Text => CsvReader.Read(content, text, options),
            _ => throw TrackRefusedException.UnknownFormat(
                "The file is none of the formats read here; send GPX, IGC, NMEA, KML, TCX or CSV."
            ),
        };
        if (content.BrokenOff)
            builder.Warn("The compressed file is damaged or cut short; the records before the damage were used.");
        return builder.Build();
    }

    private static TrackBuilder ReadLines(GuardedStream content, Action<TextReader, TrackBuilder> read, TrackBuilder builder)
    {
        using var text = OpenText(content);
        read(text, builder);
        return builder;
    }

    /// <summary>Text by its byte order mark, UTF-8 without one, and no line longer than a recorder writes.</summary>
    internal static StreamReader OpenText(GuardedStream content)
    {
        content.RefuseRunsWithout("\n\r"u8.ToArray(), ReaderLimits.LineBytes);
        return new StreamReader(content, Encoding.UTF8, detectEncodingFromByteOrderMarks: true, bufferSize: 32 * 1024, leaveOpen: true);
    }

    /// <summary>The peeked head as text by its byte order mark, UTF-8 without one; in UTF-16 NULs are halves of letters.</summary>
    private static string HeadText(GuardedStream content)
    {
        if (content.Head is not ([0xFF, 0xFE, ..] or [0xFE, 0xFF, ..]))
            content.ReadNulsAsLineEnds();
        using var reader = new StreamReader(
            new MemoryStream(content.Head.ToArray()),
            Encoding.UTF8,
            detectEncodingFromByteOrderMarks: true
        );
        return reader.ReadToEnd();
    }
}
