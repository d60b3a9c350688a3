using System.Text;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// The door for recordings: tells the format by content, never by name, inflates gzip and zip of one file, keeps to the limits while
/// it reads, and hands back columns or the one reason why there are none.
/// </summary>
public static class TrackReader
{
    /// <summary>Bytes looked at to tell the format and to find a CSV header.</summary>
    private const int HeadBytes = 64 * 1024;

    /// <summary>Reads one recording from <paramref name="stream"/>, which is left open. Samples stay in file order, unrepaired.</summary>
    /// <exception cref="OperationCanceledException">Reading was cancelled.</exception>
    /// <exception cref="IOException">The stream handed in failed.</exception>
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
            return new TrackReadResult(null, new TrackProblem(TrackProblemKind.Unreadable,
                "The compressed file is damaged at its start; compress the recording again, or send it as it is."));
        }
    }

    private static Track ReadPlain(GuardedStream content, TrackReadOptions options)
    {
        var head = content.Peek(HeadBytes).ToArray();
        if (head.Length == 0)
            throw new TrackRefusedException(new TrackProblem(TrackProblemKind.Empty, "The file is empty; export the recording again."));
        if (Inflation.IsCompressed(head))
        {
            throw TrackRefusedException.UnknownFormat(
                "The compressed file holds another compressed file; send the recording itself, or compressed once.");
        }
        var text = DecodeHead(head);
        var builder = Sniff(text) switch
        {
            "xml" => XmlTracks.Read(content, text, options),
            "csv" => CsvReader.Read(content, text, options),
            _ => throw TrackRefusedException.UnknownFormat(
                "The file is none of the formats read here; send GPX, IGC, NMEA, KML or CSV."),
        };
        if (content.BrokenOff)
            builder.Warn("The compressed file is damaged or cut short; the records before the damage were used.");
        return builder.Build();
    }

    private static string Sniff(string head)
    {
        var text = head.AsSpan().TrimStart();
        if (text.StartsWith('<'))
            return "xml";
        return text.Contains('\0') ? "binary" : "csv";
    }

    /// <summary>The head as text by its byte order mark, UTF-8 without one.</summary>
    private static string DecodeHead(byte[] head)
    {
        using var reader = new StreamReader(new MemoryStream(head), Encoding.UTF8, detectEncodingFromByteOrderMarks: true);
        return reader.ReadToEnd();
    }
}
