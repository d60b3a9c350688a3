using System.Globalization;
using System.Xml;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// GPX, KML and TCX, distinguished by their root element. No document type, no entities but XML's own, no external resources; a truncated
/// file is used up to its end.
/// </summary>
internal static class XmlTracks
{
    public static TrackBuilder Read(GuardedStream content, string head, TrackReadOptions options)
    {
        if (head.Contains("<!DOCTYPE", StringComparison.OrdinalIgnoreCase))
        {
            throw TrackRefusedException.Unreadable(
                "The file declares a document type, which recordings do without; remove the DOCTYPE or export the recording again."
            );
        }

        content.RefuseRunsWithout([(byte)'<'], ReaderLimits.XmlRunBytes);
        var settings = new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Prohibit,
            XmlResolver = null,
            IgnoreComments = true,
            IgnoreProcessingInstructions = true,
            IgnoreWhitespace = true,
            CloseInput = false,
        };
        using var xml = XmlReader.Create(content, settings);
        TrackBuilder? builder = null;
        try
        {
            xml.MoveToContent();
            switch (xml.LocalName)
            {
                case "gpx":
                    builder = new TrackBuilder("gpx", options);
                    GpxReader.Read(xml, builder);
                    break;
                case "kml":
                    builder = new TrackBuilder("kml", options);
                    KmlReader.Read(xml, builder, options);
                    break;
                case "TrainingCenterDatabase":
                    builder = new TrackBuilder("tcx", options);
                    TcxReader.Read(xml, builder);
                    break;
                default:
                    throw TrackRefusedException.UnknownFormat(
                        "The file is XML, but none of GPX, KML and TCX; export the recording as GPX, KML, IGC, NMEA or CSV."
                    );
            }
        }
        catch (XmlException broken)
        {
            if (builder is null || builder.Count == 0)
            {
                throw TrackRefusedException.Unreadable(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"Line {broken.LineNumber} is not well-formed XML and no track point stands before it; export the recording again."
                    ),
                    broken.LineNumber
                );
            }
            builder.Warn(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The file is cut short or damaged at line {broken.LineNumber}; the {builder.Count:N0} records before it were used."
                )
            );
        }
        return builder;
    }

    /// <summary>Moves to the next node; the depth is limited because the reader keeps every open element in memory.</summary>
    public static bool Advance(XmlReader xml)
    {
        if (!xml.Read())
            return false;
        if (xml.NodeType == XmlNodeType.Element && xml.Depth > ReaderLimits.XmlDepth)
        {
            throw TrackRefusedException.Unreadable(
                "The file nests its elements deeper than any recording does; export the recording again.",
                Line(xml)
            );
        }

        return true;
    }

    public static int Line(XmlReader xml) => ((IXmlLineInfo)xml).LineNumber;

    /// <summary>The number directly inside the current element; NaN when it is none.</summary>
    public static double Number(XmlReader xml, char[] buffer) => Number(Text(xml, buffer));

    /// <summary>A text as a number; NaN when it is none.</summary>
    public static double Number(ReadOnlySpan<char> text) => DecimalText.TryParse(text, out var value) ? value : double.NaN;

    /// <summary>
    /// The text directly inside the current element, CDATA cut to the buffer; the reader stays on or in the element.
    /// </summary>
    public static ReadOnlySpan<char> Text(XmlReader xml, char[] buffer)
    {
        if (xml.IsEmptyElement || !Advance(xml))
            return default;
        // The stream limits runs without "<", and so plain text, but not CDATA.
        if (xml.NodeType == XmlNodeType.Text)
            return xml.Value;
        if (xml.NodeType != XmlNodeType.CDATA)
            return default;
        var length = 0;
        for (int n; length < buffer.Length && (n = xml.ReadValueChunk(buffer, length, buffer.Length - length)) > 0; )
            length += n;
        return buffer.AsSpan(0, length);
    }
}
