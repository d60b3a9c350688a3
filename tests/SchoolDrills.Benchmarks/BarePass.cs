using System.Text;
using System.Xml;
using nietras.SeparatedValues;

namespace SchoolDrills.Benchmarks;

/// <summary>The least that can be done with the bytes of a recording: walk over them with the same parser and keep nothing.</summary>
internal static class BarePass
{
    public static void Over(string format, byte[] bytes)
    {
        switch (format)
        {
            case "gpx" or "kml":
                Xml(bytes);
                break;
            case "csv":
                Cells(bytes);
                break;
            default:
                Lines(bytes);
                break;
        }
    }

    private static void Xml(byte[] bytes)
    {
        using var xml = XmlReader.Create(
            new MemoryStream(bytes),
            new XmlReaderSettings
            {
                IgnoreComments = true,
                IgnoreProcessingInstructions = true,
                IgnoreWhitespace = true,
            }
        );
        while (xml.Read()) { }
    }

    /// <summary>All but the time parsed as numbers.</summary>
    private static void Cells(byte[] bytes)
    {
        using var text = new StreamReader(new MemoryStream(bytes), Encoding.UTF8);
        using var reader = Sep.New(',').Reader(o => o with { HasHeader = true, DisableQuotesParsing = true }).From(text);
        foreach (var row in reader)
        {
            for (var i = 1; i < row.ColCount; i++)
                row[i].Parse<double>();
        }
    }

    private static void Lines(byte[] bytes)
    {
        using var text = new StreamReader(new MemoryStream(bytes), Encoding.UTF8);
        while (text.ReadLine() is not null) { }
    }
}
